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
}

/// Reachable sums by count.
struct Sums {
    words: usize,
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
        let count = (count.0 - on_a, count.1 - on_a);
        let sums = Sums::of(items.iter().copied(), counted);
        Self {
            items,
            base,
            count,
            counted,
            sums,
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
            mine.filter(move |(a, b)| (a.continuous != 0 || b.continuous != 0) == with)
        };
        let rest = Sums::of(parts(false), self.counted);
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
                if rest.has(sum, (least - on_a, most - on_a)) {
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
    /// Sums of what choosing the second effect instead of the first adds. Effects are sorted by load: it never takes away.
    fn of(items: impl Iterator<Item = (Effect, Effect)> + Clone, counted: bool) -> Self {
        let total: i64 = items.clone().map(|(a, b)| b.load - a.load).sum();
        let words = total.max(0) as usize / 64 + 1;
        let mut bits = vec![vec![0u64; words]];
        bits[0][0] = 1;
        for (a, b) in items {
            let shift = (b.load - a.load) as usize;
            let (ca, cb) = if counted {
                (usize::from(a.on_a), usize::from(b.on_a))
            } else {
                (0, 0)
            };
            let mut next = vec![vec![0u64; words]; bits.len() + ca.max(cb)];
            for (count, line) in bits.iter().enumerate() {
                or_shifted(&mut next[count + ca], line, 0);
                or_shifted(&mut next[count + cb], line, shift);
            }
            bits = next;
        }
        Self { words, bits }
    }

    fn has(&self, sum: i64, count: (i64, i64)) -> bool {
        if sum < 0 || sum as usize / 64 >= self.words {
            return false;
        }
        let (word, bit) = (sum as usize / 64, sum as usize % 64);
        self.lines(count).any(|line| line[word] >> bit & 1 == 1)
    }

    fn all(&self, count: (i64, i64)) -> Vec<i64> {
        let mut any = vec![0u64; self.words];
        for line in self.lines(count) {
            or_shifted(&mut any, line, 0);
        }
        let bits = (0..self.words * 64).filter(|i| any[i / 64] >> (i % 64) & 1 == 1);
        bits.map(|i| i as i64).collect()
    }

    fn lines(&self, count: (i64, i64)) -> impl Iterator<Item = &Vec<u64>> {
        let each = self.bits.iter().enumerate();
        each.filter(move |(c, _)| (count.0..=count.1).contains(&(*c as i64)))
            .map(|(_, line)| line)
    }
}

fn or_shifted(into: &mut [u64], from: &[u64], shift: usize) {
    let (words, bits) = (shift / 64, shift % 64);
    for (i, word) in from.iter().enumerate() {
        if *word == 0 {
            continue;
        }
        if let Some(target) = into.get_mut(i + words) {
            *target |= word << bits;
        }
        if bits > 0
            && let Some(target) = into.get_mut(i + words + 1)
        {
            *target |= word >> (64 - bits);
        }
    }
}
