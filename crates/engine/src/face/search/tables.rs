//! Which sums can the legs have, when each knot fills its own spaces and little may be spent?
//! Source: exact subset sums, as bits, see [`super::exact`]. VA, in the largest unit that divides all loads.

use super::super::balance::or_shifted;
use super::super::legs::{continuous_of, key, load_of};
use super::exact::Core;

/// Words of all tables of one round.
const MOST_WORDS: usize = 1 << 21;

/// A line of sums for each count on leg A and each level, in this order; empty lines hold nothing.
pub(super) type Layer = Vec<Vec<u64>>;

impl Core<'_, '_> {
    /// Works out the tables. False when they would be too large.
    pub(super) fn fill(&mut self, work: &mut usize) -> bool {
        let mut start: Layer = vec![Vec::new(); self.levels];
        start[self.start] = vec![1];
        let (mut sum, mut words) = (0, 0);
        let mut tables = Vec::new();
        for knot in &self.knots {
            let (least, most) = knot.on_a();
            let mut layers: Vec<Layer> = vec![start];
            for (k, member) in knot.members.iter().enumerate() {
                let Some(before) = layers.last() else { break };
                let shift = member.load / self.grain;
                sum += shift;
                let mut next: Layer = vec![Vec::new(); (k + 2).min(most + 1) * self.levels];
                let left = knot.members.len() - k - 1;
                for (at, line) in before.iter().enumerate().filter(|(_, l)| !l.is_empty()) {
                    let (count, level) = (at / self.levels, at % self.levels);
                    for (effect, shift) in [(0, 0), (1, shift)] {
                        let (count, level) = (count + effect, level + member.levels[effect]);
                        if count > most || count + left < least || level >= self.levels {
                            continue;
                        }
                        let into = &mut next[count * self.levels + level];
                        if into.is_empty() {
                            into.resize(sum / 64 + 1, 0);
                            words += into.len();
                        }
                        *work += into.len() / 24;
                        or_shifted(into, line, shift);
                    }
                }
                if words > MOST_WORDS {
                    return false;
                }
                layers.push(next);
            }
            start = vec![Vec::new(); self.levels];
            if let Some(last) = layers.last() {
                for (at, line) in last.iter().enumerate() {
                    let into = &mut start[at % self.levels];
                    if at / self.levels >= least && !line.is_empty() {
                        into.resize(into.len().max(line.len()), 0);
                        or_shifted(into, line, 0);
                    }
                }
            }
            tables.push(layers);
        }
        tables.push(vec![start]);
        self.tables = tables;
        true
    }

    /// Sums of the second effects of the members that come to the target.
    pub(super) fn wanted(&self) -> Vec<usize> {
        let (search, columns) = (self.search, self.search.columns);
        let mut base = 0;
        for knot in &self.knots {
            for member in &knot.members {
                base += key(columns.effects[member.item][0], false) >> 8;
            }
            for (leg, item) in (0..2).flat_map(|leg| knot.fixed[leg].iter().map(move |i| (leg, *i)))
            {
                let effect = self.effect(item, leg);
                base += key(columns.effects[item][effect], false) >> 8;
            }
        }
        let sums = search.target.sums.iter();
        let right = sums.filter(|s| continuous_of(**s) == continuous_of(base));
        let more = right.filter_map(|s| usize::try_from(load_of(*s) - load_of(base)).ok());
        let mut wanted: Vec<usize> = more
            .filter(|m| m % self.grain == 0)
            .map(|m| m / self.grain)
            .collect();
        wanted.dedup();
        wanted
    }

    /// The sum can be had with this count and level after so many members of the knot.
    pub(super) fn has(
        &self,
        knot: usize,
        layer: usize,
        count: usize,
        level: usize,
        sum: usize,
    ) -> bool {
        let line = self.tables[knot][layer].get(count * self.levels + level);
        line.and_then(|l| l.get(sum / 64))
            .is_some_and(|word| word >> (sum % 64) & 1 == 1)
    }
}
