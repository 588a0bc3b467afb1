//! What does a dead period consist of, step by step? Lock out, test dead, panel, feeder, circuits, torque, short check, proof, restore one by one;
//! and what is done in the live house before and after. Gates stand where nobody goes on unsigned.
//! Source: order of work of the trade, docs/cutover.md. Energized work is never planned.

use model::plan::Plan;

use super::diary::{Diary, Entry, GateKind, Step};
use super::lots::Lot;
use super::order::{self, Piece};
use super::time::{Seconds, Times};
use super::work::{Panel, Work};
use super::{share, words};
use crate::saying::Pattern;

/// Terminations of one end of a feeder: two hots, neutral, ground.
const FEEDER_TERMINATIONS: u64 = 4;

/// What stays the same through a plan.
pub(super) struct Shutdown<'a, 'j> {
    pub(super) work: &'a Work<'j>,
    pub(super) plan: &'a Plan,
    pub(super) times: &'a Times,
    /// Between identity of leg voltages and the system's.
    pub(super) identity: Pattern,
}

/// What a dead period left behind.
#[derive(Clone, Copy, Default)]
pub(super) struct Told {
    /// Seconds by which work shared among workers took longer than it must.
    pub(super) idle: u64,
}

impl<'j> Shutdown<'_, 'j> {
    /// Work in the live house.
    pub(super) fn before(&self, diary: &mut Diary<'j>) {
        let (work, times) = (self.work, self.times);
        diary.together(Entry::new(Step::Site, words::SET_UP, times.setup));
        self.map(diary);
        let mounts = work.panels.iter().filter(|p| p.apart).map(|p| {
            let words = words::of_panel(words::MOUNT_NEW, p);
            Entry::new(Step::Prepare, words, times.mount)
        });
        diary.spread(mounts.collect());
        diary.gather();
        let prepare = work
            .lots
            .iter()
            .filter(|l| l.prepare > Seconds::ZERO)
            .map(|lot| Entry::new(Step::Prepare, words::RUN_EXTENSION, lot.prepare).of(lot));
        diary.spread(prepare.collect());
        self.change_over(diary, true);
        diary.gather();
    }

    /// Circuits are mapped with the cover on, and temporary power is set up.
    pub(super) fn map(&self, diary: &mut Diary<'j>) {
        let (work, times) = (self.work, self.times);
        let landed = || {
            work.lots
                .iter()
                .filter(|l| l.board.is_some() && l.live_before)
        };
        let map = landed().map(|lot| {
            Entry::new(Step::Map, words::MAP, times.tag * lot.circuits.len() as u64).of(lot)
        });
        diary.spread(map.collect());
        let temporary = work.lots.iter().filter(|l| l.temporary).map(|lot| {
            Entry::new(
                Step::Temporary,
                words::TEMPORARY,
                times.temporary * lot.circuits.len() as u64,
            )
        });
        diary.spread(temporary.collect());
        diary.gather();
    }

    /// Loads with temporary power are changed over to it, or back.
    pub(super) fn change_over(&self, diary: &mut Diary<'j>, to: bool) {
        for lot in self.work.lots.iter().filter(|l| l.temporary) {
            let words = if to {
                words::TO_TEMPORARY
            } else {
                words::FROM_TEMPORARY
            };
            let time = self.times.change_over * lot.circuits.len() as u64;
            let end = diary.together(Entry::new(Step::Temporary, words, time).of(lot));
            diary.lights_out(&lot.circuits, end - time);
            diary.lights_on(&lot.circuits, end);
        }
    }

    /// Everything is dark: lands these lots, proves, restores all that have been landed so far.
    pub(super) fn dead_period(&self, diary: &mut Diary<'j>, lots: &[usize], first: bool) -> Told {
        let (work, times) = (self.work, self.times);
        diary.gather();
        diary.dead = true;
        let circuits: Vec<&'j str> = self
            .dark_lots()
            .flat_map(|l| l.circuits.iter().copied())
            .collect();
        diary.lights_out(&circuits, diary.now());
        if first {
            self.supply_ends(diary);
        }
        diary.together(Entry::new(
            Step::LockOut,
            words::LOCK_OUT,
            times.lock_out * work.locks.len().max(1) as u64,
        ));
        words::dead_gates(diary, &work.locks);
        let mut told = Told::default();
        if first {
            self.legs(diary);
            let hands = self.plan.workers.min(2);
            let panels = work
                .panels
                .iter()
                .flat_map(|p| panel_work(p, times, hands))
                .collect();
            told.idle += self.shared(diary, panels);
        }
        let (mut entries, mut torque) = (Vec::new(), Vec::new());
        if first {
            for end in &work.feeder_ends {
                entries.push(Entry::new(Step::Feeder, words::feeder_end(end), end.time));
                let words = words::TORQUE_FEEDER.with("feeder", end.feeder);
                torque.push(Entry::new(
                    Step::Torque,
                    words,
                    times.torque * FEEDER_TERMINATIONS,
                ));
            }
        }
        let mut chosen: Vec<&Lot<'j>> = lots.iter().map(|i| &work.lots[*i]).collect();
        chosen.sort_by_key(|l| (std::cmp::Reverse(l.dark_weight()), l.name.clone()));
        for lot in chosen {
            entries.push(Entry::new(Step::Land, words::landing(lot), lot.land).of(lot));
            torque.push(Entry::new(Step::Torque, words::TORQUE, lot.torque).of(lot));
        }
        told.idle += self.shared(diary, entries);
        told.idle += self.shared(diary, torque);
        let panels = work.panels.iter().filter(|p| p.stays).count().max(1) as u64;
        diary.together(Entry::new(
            Step::Shorts,
            if lots.len() < work.lots.len() && first {
                words::SHORTS_CAPPED
            } else {
                words::SHORTS
            },
            times.shorts * panels,
        ));
        words::proof_gates(diary, &work.panels);
        diary.together(Entry::new(Step::Prove, words::PROVE, times.prove * panels));
        diary.gate(GateKind::VoltagesProven, self.identity);
        self.restore(diary, lots, first);
        diary.dead = false;
        told
    }

    /// A feeder is landed in the board above: that board and all below it are dark for it, and it comes back first.
    pub(super) fn supply_ends(&self, diary: &mut Diary<'j>) {
        let (work, times) = (self.work, self.times);
        if work.supply_boards.is_empty() {
            return;
        }
        diary.lights_out(&work.above, diary.now());
        let boards = work.supply_boards.len() as u64;
        let names = work.supply_boards.join(" + ");
        let time = times.lock_out * work.locks_above.len().max(1) as u64;
        diary.together(Entry::new(
            Step::LockOut,
            words::LOCK_OUT_BOARDS.with("boards", &names),
            time,
        ));
        words::dead_gates(diary, &work.locks_above);
        diary.together(Entry::new(
            Step::SupplyEnd,
            words::SUPPLY_END.with("boards", &names),
            times.supply_end * boards,
        ));
        diary.gate(
            GateKind::TorqueDone,
            words::TORQUE_FEEDER_DONE.with("boards", &names),
        );
        diary.together(Entry::new(
            Step::Prove,
            words::ENERGIZE_ABOVE.with("boards", &names),
            times.prove * boards,
        ));
        diary.gate(GateKind::VoltagesProven, self.identity);
        let now = diary.now();
        diary.lights_on(&work.above, now);
    }

    pub(super) fn legs(&self, diary: &mut Diary<'j>) {
        let sets = self
            .work
            .lots
            .iter()
            .filter(|l| l.live_before && l.board.is_some() && l.circuits.len() > 1);
        let time = self.times.legs * sets.count() as u64;
        diary.together(Entry::new(Step::Land, words::LEGS, time));
    }

    pub(super) fn dark_lots(&self) -> impl Iterator<Item = &Lot<'j>> {
        self.work
            .lots
            .iter()
            .filter(|l| l.live_before && !l.temporary)
    }

    /// Shares the entries among the workers so that all is done soonest. Seconds by which that is later than it must be.
    fn shared(&self, diary: &mut Diary<'j>, entries: Vec<Entry<'j>>) -> u64 {
        diary.gather();
        let times: Vec<u64> = entries.iter().map(|e| e.time.0).collect();
        let shares = share::share(&times, diary.workers());
        for (entry, worker) in entries.into_iter().zip(&shares.who) {
            diary.write(*worker, entry);
        }
        diary.gather();
        shares.last_end - shares.least
    }

    /// Switches on what is landed: in the first period the lots of it, in the second all.
    fn restore(&self, diary: &mut Diary<'j>, lots: &[usize], first: bool) {
        let mut on: Vec<usize> = if first {
            lots.to_vec()
        } else {
            (0..self.work.lots.len()).collect()
        };
        // Among equally heavy ones the tightest limit comes first.
        on.sort_by_key(|l| (self.work.lots[*l].limit.unwrap_or(Seconds(u64::MAX)), *l));
        let place = |lot: usize| on.iter().position(|l| *l == lot);
        let pieces: Vec<Piece> = on
            .iter()
            .map(|l| {
                let lot = &self.work.lots[*l];
                Piece {
                    time: lot.restore.0,
                    weight: lot.dark_weight(),
                    follows: lot.follows.and_then(place),
                }
            })
            .collect();
        for i in order::best(&pieces) {
            let lot = &self.work.lots[on[i]];
            let entry = Entry::new(Step::Restore, words::RESTORE, lot.restore).of(lot);
            let end = diary.write(0, entry);
            if lot.live_before && !lot.temporary {
                diary.lights_on(&lot.circuits, end);
            }
        }
        diary.gather();
    }

    /// What is done when the house is live again.
    pub(super) fn finish(&self, diary: &mut Diary<'j>) {
        let (work, times) = (self.work, self.times);
        self.change_over(diary, false);
        let restores: Seconds = work.lots.iter().map(|l| l.restore).sum();
        let boards = work.panels.iter().filter(|p| p.stays).count() as u64;
        let mut entries = vec![Entry::new(
            Step::Finish,
            words::CHECKS,
            times.checks * boards.max(1) - times.prove * boards.max(1) - restores,
        )];
        for panel in &work.panels {
            let goes = panel.stood && (!panel.stays || (panel.apart && !panel.splice_box));
            if goes {
                let words = words::of_panel(words::TAKE_OUT, panel);
                entries.push(Entry::new(Step::Finish, words, times.remove_cabinet));
            }
            if panel.stays {
                let words = words::of_panel(words::DIRECTORY, panel);
                entries.push(Entry::new(Step::Finish, words, times.directory));
            }
        }
        diary.spread(entries);
        diary.together(Entry::new(Step::Site, words::CLEAN_UP, times.clean_up));
    }
}

/// What is done to a panel while it is dead, besides its circuits and feeder; two people halve it.
fn panel_work<'j>(panel: &Panel<'_>, times: &Times, hands: u8) -> Vec<Entry<'j>> {
    let (words, time) = match panel {
        p if !p.stood || !p.stays => return Vec::new(),
        p if p.change.interior_only => {
            (words::of_panel(words::NEW_INTERIOR, panel), times.interior)
        }
        p if p.apart && p.splice_box => {
            (words::of_panel(words::SPLICE_BOX, panel), times.splice_box)
        }
        p if p.apart => return Vec::new(),
        _ => (
            words::of_panel(words::DOWN_AND_UP, panel),
            times.demount + times.mount,
        ),
    };
    let hands = u64::from(hands.max(1));
    let each = Seconds(time.0.div_ceil(hands));
    (0..hands)
        .map(|_| Entry::new(Step::Panel, words.clone(), each))
        .collect()
}
