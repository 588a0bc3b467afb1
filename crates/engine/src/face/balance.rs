//! How evenly can the legs be loaded at all? Every imbalance that some choice of legs gives, the least first.
//! Source: exact subset sums over the items, with the number of single spaces on leg A kept in range. Whole VA.

use super::columns::Effect;

/// Most different sums of the items with continuous load.
const MOST_STATES: usize = 400_000;

/// Which imbalances are possible.
pub(super) struct Balance {
    items: Vec<(Effect, Effect)>,
    base: (i64, i64),
    count: (i64, i64),
    counted: bool,
    sums: Sums,
    /// The same of the items whose continuous load does not depend on the leg.
    rest: Sums,
}

/// Reachable sums by count.
#[derive(Clone)]
struct Sums {
    /// All sums are multiples of it: a bit stands for so many VA.
    unit: i64,
    /// Largest sum, in units.
    most: usize,
    bits: Vec<Vec<u64>>,
}

impl Balance {
    /// `effects` are the choices of each item; items with more than two choices cannot occur.
    pub(super) fn of(effects: &[Vec<Effect>], count: (i64, i64), counted: bool) -> Self {
        let mut base = (0, 0);
        let mut on_a = 0;
        let mut items = Vec::new();
        for choices in effects {
            match choices.as_slice() {
                [] => {}
                [only] => {
                    base = (base.0 + only.load, base.1 + only.continuous);
                    on_a += i64::from(only.on_a);
                }
                [first, .., last] => items.push((*first, *last)),
            }
        }
        // Those without continuous load first.
        items.sort_by_key(is_continuous);
        let count = (count.0 - on_a, count.1 - on_a);
        let range = if counted { count } else { (0, 0) };
        let unit = items
            .iter()
            .fold(0, |unit, (a, b)| gcd(unit, b.load - a.load));
        let mut rest = Sums::none(unit.max(1));
        let mut sums = rest.clone();
        for (at, item) in items.iter().enumerate() {
            // The counts that the items still to come can bring into range.
            let left = (items.len() - at - 1) as i64;
            sums.add(*item, counted, (range.0 - left, range.1));
            if !is_continuous(item) {
                rest = sums.clone();
            }
        }
        Self {
            items,
            base,
            count,
            counted,
            sums,
            rest,
        }
    }

    /// Possible imbalances of the load, least first.
    pub(super) fn loads(&self) -> Vec<i64> {
        let start = self.base.0 + self.items.iter().map(|i| i.0.load).sum::<i64>();
        let mut found: Vec<i64> = Vec::new();
        for sum in self.sums.all(self.range()) {
            found.push((start + sum).abs());
        }
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Possible imbalances of the continuous load when that of the load is `imbalance`, least first; `None` when there are too many sums to tell.
    pub(super) fn continuous(&self, imbalance: i64) -> Option<Vec<i64>> {
        let parts = |with: bool| {
            let mine = self.items.iter().copied();
            mine.filter(move |i| is_continuous(i) == with)
        };
        let start: i64 = self.base.0 + parts(false).map(|i| i.0.load).sum::<i64>();
        let mut states = vec![(0i64, self.base.1, 0i64)];
        for (a, b) in parts(true) {
            let count = |e: Effect| i64::from(e.on_a && self.counted);
            states = states
                .iter()
                .flat_map(|s| [a, b].map(|e| (s.0 + e.load, s.1 + e.continuous, s.2 + count(e))))
                .collect();
            states.sort_unstable();
            states.dedup();
            if states.len() > MOST_STATES {
                return None;
            }
        }
        let (least, most) = self.range();
        let mut found = Vec::new();
        for (load, continuous, on_a) in states {
            for wanted in [imbalance, -imbalance] {
                let sum = wanted - start - load;
                if self.rest.has(sum, (least - on_a, most - on_a)) {
                    found.push(continuous.abs());
                }
            }
        }
        found.sort_unstable();
        found.dedup();
        Some(found)
    }

    fn range(&self) -> (i64, i64) {
        if self.counted { self.count } else { (0, 0) }
    }
}

impl Sums {
    /// Of no items.
    fn none(unit: i64) -> Self {
        Self {
            unit,
            most: 0,
            bits: vec![vec![1]],
        }
    }

    /// Adds what choosing the second effect of an item instead of the first adds; only the counts in `kept` go on. Effects are sorted by load:
    /// it never takes away.
    fn add(&mut self, (a, b): (Effect, Effect), counted: bool, kept: (i64, i64)) {
        let shift = ((b.load - a.load) / self.unit) as usize;
        self.most += shift;
        let words = self.most / 64 + 1;
        let (first, second) = if counted {
            (usize::from(a.on_a), usize::from(b.on_a))
        } else {
            (0, 0)
        };
        let lines = self.bits.len() + first.max(second);
        let line = |count: usize| {
            let mut line = Vec::new();
            if (kept.0..=kept.1).contains(&(count as i64)) {
                for (on_a, shift) in [(first, 0), (second, shift)] {
                    let before = count.checked_sub(on_a).and_then(|c| self.bits.get(c));
                    if let Some(before) = before.filter(|l| !l.is_empty()) {
                        line.resize(words, 0);
                        or_shifted(&mut line, before, shift);
                    }
                }
            }
            line
        };
        self.bits = (0..lines).map(line).collect();
    }

    fn has(&self, sum: i64, count: (i64, i64)) -> bool {
        if sum < 0 || sum % self.unit != 0 {
            return false;
        }
        let bit = (sum / self.unit) as usize;
        let has = |line: &Vec<u64>| line.get(bit / 64).is_some_and(|w| w >> (bit % 64) & 1 == 1);
        self.lines(count).any(has)
    }

    fn all(&self, count: (i64, i64)) -> Vec<i64> {
        let mut any = vec![0u64; self.most / 64 + 1];
        for line in self.lines(count) {
            or_shifted(&mut any, line, 0);
        }
        let bits = (0..=self.most).filter(|i| any[i / 64] >> (i % 64) & 1 == 1);
        bits.map(|i| i as i64 * self.unit).collect()
    }

    fn lines(&self, count: (i64, i64)) -> impl Iterator<Item = &Vec<u64>> {
        let each = self.bits.iter().enumerate();
        each.filter(move |(c, _)| (count.0..=count.1).contains(&(*c as i64)))
            .map(|(_, line)| line)
    }
}

/// Its continuous load depends on the leg.
fn is_continuous((a, b): &(Effect, Effect)) -> bool {
    a.continuous != 0 || b.continuous != 0
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// Sets in `into` what is set in `from`, so many bits further on. `into` has room for it.
pub(super) fn or_shifted(into: &mut [u64], from: &[u64], shift: usize) {
    let (words, bits) = (shift / 64, shift % 64);
    if words >= into.len() {
        return;
    }
    for (target, word) in into[words..].iter_mut().zip(from) {
        *target |= word << bits;
    }
    if bits > 0 {
        for (target, word) in into[words + 1..].iter_mut().zip(from) {
            *target |= word >> (64 - bits);
        }
    }
}
