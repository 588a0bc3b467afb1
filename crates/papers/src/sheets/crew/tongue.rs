//! How do names, numbers and facts read in the language of the pack?
//! Source: the catalogue. What a user wrote stays as it was written.

use engine::cutover::{Clock, Dark, Seconds};
use engine::saying::Saying;
use model::conductor::Wire;
use model::house::Protection;
use model::units::{Amperes, Feet, Inches};
use model::{Fact, Job};

use super::super::head::amperes;
use crate::material::{Language, Material};
use crate::words;

/// A language, and the job that is spoken of.
pub(super) struct Tongue<'m> {
    language: Language,
    job: &'m Job,
    clock: Clock,
}

impl<'m> Tongue<'m> {
    pub(super) fn of(material: &Material<'m>) -> Self {
        let job = material.report.job;
        Self {
            language: material.setting.language,
            job,
            clock: Clock(job.plan.start),
        }
    }

    pub(super) const fn language(&self) -> Language {
        self.language
    }

    pub(super) fn word(&self, name: &str) -> String {
        self.say(name, &[])
    }

    pub(super) fn say(&self, name: &str, values: &[(&str, &str)]) -> String {
        words::say(self.language, name, values)
    }

    /// A sentence of the engine.
    pub(super) fn saying(&self, saying: &Saying) -> String {
        saying.in_words(&|pattern| words::sentence(self.language, pattern))
    }

    pub(super) fn sayings(&self, all: &[Saying]) -> Vec<String> {
        all.iter().map(|s| self.saying(s)).collect()
    }

    pub(super) fn unknown(&self) -> String {
        self.word("crew-not-known")
    }

    pub(super) fn at(&self, moment: Seconds) -> String {
        self.saying(&self.clock.saying(moment))
    }

    pub(super) fn spans(&self, dark: &[Dark]) -> String {
        let each = dark.iter().map(|d| self.saying(&self.clock.span_saying(d)));
        each.collect::<Vec<_>>().join("; ")
    }

    pub(super) fn inches(&self, length: Inches) -> String {
        self.say("crew-inches", &[("number", &number(length.0))])
    }

    pub(super) fn feet(&self, length: Feet) -> String {
        self.say("crew-feet", &[("number", &number(length.0))])
    }

    /// A board by what people call it, with its name in the job.
    pub(super) fn board_named(&self, id: &str) -> String {
        let boards = [&self.job.after.boards, &self.job.before.boards];
        let name = boards
            .iter()
            .find_map(|b| b.get(id))
            .map(|b| b.name.as_str());
        match name.filter(|n| !n.is_empty()) {
            Some(name) => self.say("crew-board-named", &[("board", id), ("name", name)]),
            None => id.to_owned(),
        }
    }

    pub(super) fn fact<T>(&self, fact: &Fact<T>, said: impl FnOnce(&T) -> String) -> String {
        fact.known().map_or_else(|| self.unknown(), said)
    }

    pub(super) fn wire(&self, wire: &Fact<Wire>) -> String {
        self.fact(wire, Wire::to_string)
    }

    /// Poles, rating and protection of a breaker.
    pub(super) fn breaker(
        &self,
        poles: usize,
        amps: Option<Amperes>,
        protection: &Fact<Protection>,
    ) -> String {
        let amps = amps.map_or_else(|| self.unknown(), amperes);
        let breaker = self.say(
            "crew-poles",
            &[("poles", &poles.to_string()), ("amps", &amps)],
        );
        let kind = match protection.get() {
            Some(Protection::None) => return breaker,
            Some(Protection::Afci) => "crew-protection-afci",
            Some(Protection::Gfci) => "crew-protection-gfci",
            Some(Protection::Dual) => "crew-protection-dual",
            None => "crew-protection-unknown",
        };
        format!("{breaker}, {}", self.word(kind))
    }

    pub(super) fn room(&self, tag: Option<&str>) -> String {
        let tag = tag.unwrap_or("not-known");
        let name = format!("room-{tag}");
        let known = words::catalogue(self.language).contains_key(&name);
        if known {
            self.word(&name)
        } else {
            tag.replace('_', " ")
        }
    }
}

/// A number with at most one decimal.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}
