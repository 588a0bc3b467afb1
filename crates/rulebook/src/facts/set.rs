//! Which facts? A fact's place in the dictionary, and a set of such places.
//! Source: none needed. No units.

use std::fmt;

/// A fact's place in its dictionary, and its slot in a slice of values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FactId(pub(crate) u16);

impl FactId {
    /// The slot, from 0.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// The most facts that one dictionary may hold.
pub const MAX_FACTS: usize = 512;
const WORDS: usize = MAX_FACTS / 64;

/// A set of facts, without allocation.
#[derive(Clone, Copy, Default, PartialEq, Eq, Hash)]
pub struct FactSet([u64; WORDS]);

impl FactSet {
    /// No facts.
    pub const EMPTY: Self = Self([0; WORDS]);

    /// Puts a fact in.
    pub fn insert(&mut self, fact: FactId) {
        if let Some(word) = self.0.get_mut(fact.index() / 64) {
            *word |= 1 << (fact.index() % 64);
        }
    }

    /// Is the fact in?
    #[must_use]
    pub fn contains(&self, fact: FactId) -> bool {
        self.0
            .get(fact.index() / 64)
            .is_some_and(|word| word & (1 << (fact.index() % 64)) != 0)
    }

    /// Is nothing in?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// How many facts are in.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// Facts of either set.
    #[must_use]
    pub fn union(&self, other: &Self) -> Self {
        let mut all = *self;
        for (word, more) in all.0.iter_mut().zip(other.0) {
            *word |= more;
        }
        all
    }

    /// Are all facts of `self` in `other`?
    #[must_use]
    pub fn is_subset(&self, other: &Self) -> bool {
        self.0.iter().zip(other.0).all(|(a, b)| a & !b == 0)
    }

    /// The facts, in order of the dictionary.
    pub fn iter(&self) -> impl Iterator<Item = FactId> + '_ {
        self.0.iter().enumerate().flat_map(|(i, &word)| {
            let mut rest = word;
            std::iter::from_fn(move || {
                let bit = rest.trailing_zeros();
                rest &= rest.checked_sub(1)?;
                Some(FactId((i * 64) as u16 + bit as u16))
            })
        })
    }
}

impl FromIterator<FactId> for FactSet {
    fn from_iter<I: IntoIterator<Item = FactId>>(facts: I) -> Self {
        let mut set = Self::EMPTY;
        facts.into_iter().for_each(|f| set.insert(f));
        set
    }
}

impl fmt::Debug for FactSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_set().entries(self.iter().map(|id| id.0)).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_gives_back_in_order_what_was_put_in() {
        let set: FactSet = [300, 0, 63, 64].map(FactId).into_iter().collect();
        assert_eq!(set.iter().collect::<Vec<_>>(), [0, 63, 64, 300].map(FactId));
        assert_eq!(set.len(), 4);
        assert!(set.contains(FactId(64)) && !set.contains(FactId(65)));
    }

    #[test]
    fn a_fact_beyond_the_limit_is_never_in() {
        let mut set = FactSet::EMPTY;
        set.insert(FactId(MAX_FACTS as u16));
        assert!(set.is_empty());
    }
}
