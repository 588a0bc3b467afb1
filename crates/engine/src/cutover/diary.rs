//! Who does what when? Work is written down in order; outside dead periods nothing is begun that would run past the shift.
//! Moments count from the crew's arrival on the first day, nights included.

use std::collections::BTreeMap;

use serde::Serialize;

use super::lots::Lot;
use super::time::Seconds;
use crate::saying::Saying;

/// What a task is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "CutoverStep")]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// Arrive, set up, clean up.
    Site,
    /// Map and photograph a circuit.
    Map,
    /// Done while the house is live: mount, run, land on a panel that has no feeder yet.
    Prepare,
    /// Temporary power, and changing over to it or back.
    Temporary,
    /// Lock out and test dead.
    LockOut,
    /// Take down and mount while dead.
    Panel,
    /// Land a feeder in the board above.
    SupplyEnd,
    /// Land a feeder on a panel.
    Feeder,
    /// Land or join a circuit while dead.
    Land,
    /// Torque pass.
    Torque,
    /// Short check, cover fitted.
    Shorts,
    /// Energize with all branches off, prove the voltages.
    Prove,
    /// Switch a circuit on.
    Restore,
    /// Checks and papers after the restore.
    Finish,
}

/// A task of one worker.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task<'j> {
    /// Sort.
    pub step: Step,
    /// Circuits or board it is done to; empty where it is the whole site or panel.
    pub subject: String,
    /// Board whose circuits merely come along, where it is done to such a one.
    pub along: Option<&'j str>,
    /// What is done.
    pub words: Saying,
    /// Worker, from 1.
    pub worker: usize,
    /// Begin.
    pub start: Seconds,
    /// End.
    pub end: Seconds,
    /// Circuits it lands or switches on.
    pub circuits: Vec<&'j str>,
}

/// What must hold before the work goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GateKind {
    /// Locked and tagged.
    LockedOut,
    /// Tested live, dead, live.
    TestedDead,
    /// Bond in or out.
    BondState,
    /// Dead tests passed.
    DeadTests,
    /// All terminations torqued and recorded.
    TorqueDone,
    /// Voltages prove out before loads come on.
    VoltagesProven,
}

/// A gate: nobody goes on before it is signed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gate {
    /// Moment.
    pub at: Seconds,
    /// Sort.
    pub kind: GateKind,
    /// What to see, in words.
    pub words: Saying,
}

/// A span of darkness.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dark {
    /// Lights out.
    pub from: Seconds,
    /// Lights on.
    pub to: Seconds,
}

impl Dark {
    /// Its length.
    #[must_use]
    pub fn length(self) -> Seconds {
        self.to - self.from
    }

    /// It lasts into another day.
    #[must_use]
    pub fn is_overnight(self) -> bool {
        self.from.0 / Seconds::DAY.0 != self.to.0 / Seconds::DAY.0
    }
}

/// Something to be written down.
#[derive(Clone, Debug)]
pub(super) struct Entry<'j> {
    pub(super) step: Step,
    pub(super) subject: String,
    pub(super) along: Option<&'j str>,
    pub(super) words: Saying,
    pub(super) time: Seconds,
    pub(super) circuits: Vec<&'j str>,
}

impl<'j> Entry<'j> {
    pub(super) fn new(step: Step, words: impl Into<Saying>, time: Seconds) -> Self {
        Self {
            step,
            subject: String::new(),
            along: None,
            words: words.into(),
            time,
            circuits: Vec::new(),
        }
    }

    pub(super) fn of(self, lot: &Lot<'j>) -> Self {
        Self {
            subject: lot.name.clone(),
            along: lot.along,
            circuits: lot.circuits.clone(),
            ..self
        }
    }
}

/// The diary as it grows.
#[derive(Clone, Debug)]
pub(super) struct Diary<'j> {
    pub(super) tasks: Vec<Task<'j>>,
    pub(super) gates: Vec<Gate>,
    pub(super) dark: BTreeMap<&'j str, Vec<Dark>>,
    /// In a dead period work goes on past the shift.
    pub(super) dead: bool,
    shift: Seconds,
    free: Vec<Seconds>,
    since: BTreeMap<&'j str, Seconds>,
}

impl<'j> Diary<'j> {
    pub(super) fn new(workers: usize, shift: Seconds) -> Self {
        Self {
            tasks: Vec::new(),
            gates: Vec::new(),
            dark: BTreeMap::new(),
            dead: false,
            shift,
            free: vec![Seconds::ZERO; workers.max(1)],
            since: BTreeMap::new(),
        }
    }

    pub(super) fn workers(&self) -> usize {
        self.free.len()
    }

    /// When everybody is free.
    pub(super) fn now(&self) -> Seconds {
        self.free.iter().copied().max().unwrap_or_default()
    }

    /// Time since this day's arrival.
    pub(super) fn of_day(at: Seconds) -> Seconds {
        Seconds(at.0 % Seconds::DAY.0)
    }

    /// Arrival on the day after.
    pub(super) fn next_day(at: Seconds) -> Seconds {
        Seconds((at.0 / Seconds::DAY.0 + 1) * Seconds::DAY.0)
    }

    /// Nobody begins anything before this moment.
    pub(super) fn wait_until(&mut self, at: Seconds) {
        for free in &mut self.free {
            *free = (*free).max(at);
        }
    }

    /// Everybody waits for everybody.
    pub(super) fn gather(&mut self) {
        self.wait_until(self.now());
    }

    /// The first worker does it while the others wait.
    pub(super) fn together(&mut self, entry: Entry<'j>) -> Seconds {
        self.gather();
        let end = self.write(0, entry);
        self.gather();
        end
    }

    /// Each to whoever is free first, in this order.
    pub(super) fn spread(&mut self, entries: Vec<Entry<'j>>) {
        for entry in entries {
            let free = |w: &usize| (self.free[*w], *w);
            let who = (0..self.free.len()).min_by_key(free).unwrap_or_default();
            self.write(who, entry);
        }
    }

    /// One entry of one worker. Nothing is written for no time.
    pub(super) fn write(&mut self, worker: usize, entry: Entry<'j>) -> Seconds {
        if entry.time == Seconds::ZERO {
            return self.free[worker];
        }
        let start = if self.dead {
            self.free[worker]
        } else {
            self.fitting(self.free[worker], entry.time)
        };
        self.at(worker, start, entry)
    }

    /// One entry at a moment that was worked out elsewhere.
    pub(super) fn at(&mut self, worker: usize, start: Seconds, entry: Entry<'j>) -> Seconds {
        let end = start + entry.time;
        self.free[worker] = end;
        self.tasks.push(Task {
            step: entry.step,
            subject: entry.subject,
            along: entry.along,
            words: entry.words,
            worker: worker + 1,
            start,
            end,
            circuits: entry.circuits,
        });
        end
    }

    /// This moment, or the next morning when it would not be done within the shift.
    pub(super) fn fitting(&self, at: Seconds, time: Seconds) -> Seconds {
        let since = Self::of_day(at);
        let fits = since + time <= self.shift;
        if fits || since == Seconds::ZERO {
            at
        } else {
            Self::next_day(at)
        }
    }

    pub(super) fn gate(&mut self, kind: GateKind, words: impl Into<Saying>) {
        self.gates.push(Gate {
            at: self.now(),
            kind,
            words: words.into(),
        });
    }

    pub(super) fn lights_out(&mut self, circuits: &[&'j str], at: Seconds) {
        for id in circuits {
            self.since.entry(id).or_insert(at);
        }
    }

    pub(super) fn lights_on(&mut self, circuits: &[&'j str], at: Seconds) {
        for id in circuits {
            if let Some(from) = self.since.remove(id)
                && at > from
            {
                self.dark.entry(id).or_default().push(Dark { from, to: at });
            }
        }
    }
}
