//! New panel first: it stands elsewhere, is proven and energized on a feeder of its own, and the circuits follow.
//! A cabinet or box is worked on only while everything in it is dead: a circuit is cut over in a box of its own outside the cabinets, locked off
//! at its breaker, or lifted out of the old cabinet while that is locked out. Source: docs/cutover.md.

use std::collections::BTreeSet;

use model::Job;
use model::house::UTILITY;
use model::plan::Transfer;
use model::scope::{Change, Scope};

use super::dead::Shutdown;
use super::diary::{Diary, Entry, GateKind, Step};
use super::locks;
use super::lots::Lot;
use super::order::{self, Piece};
use super::time::Seconds;
use super::words;
use super::work::{Panel, Work};
use super::{CannotPlan, Proof, Slack};
use crate::saying::Pattern;
use crate::tree::{Role, SupplyTree};

/// Why a job cannot be done new panel first; the panel where it can.
pub(super) fn panel<'w, 'j>(
    job: &'j Job,
    work: &'w Work<'j>,
    second_feeder: Option<bool>,
    transfer: Option<Transfer>,
) -> Result<&'w Panel<'j>, CannotPlan> {
    let cannot = |why: Pattern| Err(CannotPlan::NewPanelFirst(why.into()));
    let [panel] = work.panels.as_slice() else {
        return cannot(words::CANNOT_ONE);
    };
    if !(panel.stood && panel.stays && panel.apart) {
        return cannot(words::CANNOT_CLEAR);
    }
    if panel.role != Role::FeederFed {
        return cannot(words::CANNOT_SERVICE);
    }
    if work.opened.iter().any(|b| *b != panel.id) {
        return cannot(words::CANNOT_OTHERS);
    }
    let scope = Scope::of(job);
    let own_feeder = job
        .after
        .feeders
        .iter()
        .any(|(id, f)| f.to == panel.id && scope.feeder(id.as_str()) != Some(Change::Kept));
    if !own_feeder && second_feeder != Some(true) {
        return cannot(words::CANNOT_FEEDER);
    }
    if panel.splice_box && transfer != Some(Transfer::OwnBox) {
        return cannot(words::CANNOT_SPLICE);
    }
    Ok(panel)
}

/// The board that feeds the new panel is opened for it, and is dark for that with all below.
pub(super) fn open_above<'j>(job: &'j Job, work: &mut Work<'j>, panel: &str) {
    let tree = SupplyTree::of(&job.before);
    let feeders = job.after.feeders.values();
    let above = feeders
        .filter(|f| f.to == panel && f.from != UTILITY)
        .find_map(|f| job.before.boards.get_key_value(f.from.as_str()))
        .map(|(id, _)| id.as_str());
    let Some(above) = above else { return };
    let circuits = job.before.circuits.iter();
    work.above = circuits
        .filter(|(_, c)| tree.is_at_or_below(&c.board, above))
        .map(|(id, _)| id.as_str())
        .collect();
    work.supply_boards = vec![above];
    work.locks_above = locks::of(job, &Scope::of(job), &tree, &BTreeSet::from([above]), &[]);
}

impl<'j> Shutdown<'_, 'j> {
    /// The whole plan with the new panel first.
    pub(super) fn new_panel_first(&self, panel: &Panel<'j>, own_box: bool) -> (Diary<'j>, Slack) {
        let times = self.times;
        let mut diary = Diary::new(usize::from(self.plan.workers), Seconds::of(self.plan.shift));
        diary.together(Entry::new(Step::Site, words::SET_UP, times.setup));
        self.map(&mut diary);
        let mount = words::of_panel(words::MOUNT_NEW, panel);
        diary.together(Entry::new(Step::Prepare, mount, times.mount));
        let landed = || self.work.lots.iter().filter(|l| l.board.is_some());
        let prepare = landed()
            .map(|lot| Entry::new(Step::Prepare, words::RUN_NEW_CABLE, lot.prepare_first).of(lot));
        diary.spread(prepare.collect());
        for end in self.work.feeder_ends.iter().filter(|e| !e.is_supply_end) {
            let time = end.time + times.torque * 4;
            diary.together(Entry::new(Step::Feeder, words::feeder_end(end), time));
        }
        diary.together(Entry::new(Step::Shorts, words::SHORTS_NEW, times.shorts));
        self.feed(&mut diary);
        words::proof_gates(&mut diary, &self.work.panels);
        diary.together(Entry::new(Step::Prove, words::PROVE_NEW, times.prove));
        diary.gate(GateKind::VoltagesProven, self.identity);
        let new = landed()
            .filter(|l| !l.live_before)
            .map(|lot| Entry::new(Step::Restore, words::RESTORE, lot.restore).of(lot));
        diary.spread(new.collect());
        diary.gather();
        let slack = if own_box {
            self.one_by_one(&mut diary)
        } else {
            self.out_of_old_cabinet(&mut diary)
        };
        diary.gather();
        if own_box {
            diary.together(Entry::new(
                Step::LockOut,
                words::EMPTY_LOCK_OUT,
                times.lock_out,
            ));
            words::dead_gates(&mut diary, &self.work.locks);
        }
        if panel.splice_box {
            let words = words::of_panel(words::EMPTY_OLD, panel);
            diary.spread(vec![Entry::new(Step::Finish, words, times.splice_box)]);
        }
        self.finish(&mut diary);
        (diary, slack)
    }

    /// The feeder of the new panel is landed in the board above, which is dead for it with all below.
    fn feed(&self, diary: &mut Diary<'j>) {
        if self.work.supply_boards.is_empty() {
            return;
        }
        let block = self.times.lock_out * self.work.locks_above.len().max(1) as u64
            + self.times.supply_end
            + self.times.prove;
        let start = self.in_window(diary.fitting(diary.now(), block));
        diary.wait_until(start);
        diary.dead = true;
        self.supply_ends(diary);
        diary.dead = false;
    }

    /// Each circuit is dark for its own transfer alone, whatever the order; heaviest first, so that most is behind if the day goes wrong.
    fn one_by_one(&self, diary: &mut Diary<'j>) -> Slack {
        let times = self.times;
        diary.gate(GateKind::LockedOut, words::EACH_LOCKED);
        diary.gate(GateKind::TestedDead, words::EACH_DEAD);
        let mut lots: Vec<&Lot<'j>> = self.work.lots.iter().filter(|l| l.live_before).collect();
        lots.sort_by_key(|l| (std::cmp::Reverse(l.weight), l.name.clone()));
        for lot in lots {
            let n = lot.circuits.len() as u64;
            let join = times.lock_circuit * n + lot.take_over;
            let whole = Entry::new(Step::Land, words::OWN_BOX, join + lot.restore).of(lot);
            diary.spread(vec![whole]);
            let Some(task) = diary.tasks.pop() else {
                continue;
            };
            let (start, middle, end) = (task.start, task.start + join, task.end);
            let mut cut = task.clone();
            cut.end = middle;
            diary.tasks.push(cut);
            let mut on = task;
            (on.step, on.start) = (Step::Restore, middle);
            on.words = words::RESTORE_NEW.into();
            diary.tasks.push(on);
            diary.lights_out(&lot.circuits, start);
            diary.lights_on(&lot.circuits, end);
        }
        Slack(0, Proof::OwnTime)
    }

    /// The old panel is locked out once for each day; a circuit comes back as soon as it is joined, its box closed and its new breaker on.
    fn out_of_old_cabinet(&self, diary: &mut Diary<'j>) -> Slack {
        let shift = Seconds::of(self.plan.shift);
        self.change_over(diary, true);
        let before = super::weighted(diary, self.work, |_| true);
        let lots: Vec<&Lot<'j>> = self.work.lots.iter().filter(|l| l.live_before).collect();
        let pieces = self.pieces(&lots);
        let order = order::best(&pieces);
        let mut left: &[usize] = &order;
        let opening = self.times.lock_out * self.work.locks.len().max(1) as u64 + self.legs_time();
        let closing = self.times.shorts + self.times.prove;
        let mut days = 0;
        while !left.is_empty() {
            let room = |from: Seconds| shift - Diary::of_day(from);
            let fitting = |from: Seconds| {
                (0..=left.len()).rev().find(|n| {
                    let close = if *n == left.len() {
                        Seconds::ZERO
                    } else {
                        closing
                    };
                    let (_, end) = self.placed(&pieces, &left[..*n], &order);
                    opening + Seconds(end) + close <= room(from)
                })
            };
            let now = diary.now();
            let tomorrow = if Diary::of_day(now) == Seconds::ZERO {
                now
            } else {
                Diary::next_day(now)
            };
            let today = fitting(now).unwrap_or(0);
            // A whole shift that takes all, or more than is left of today, is worth waiting for; one circuit must be taken at least.
            let (start, n) = match fitting(tomorrow).unwrap_or(0) {
                all if all == left.len() && today < all => (tomorrow, all),
                n if today == 0 => (tomorrow, n.max(1)),
                _ => (now, today),
            };
            diary.wait_until(start);
            let (taken, rest) = left.split_at(n);
            self.session(diary, &lots, &pieces, (taken, rest), &order);
            left = rest;
            days += 1;
        }
        let weight: u64 = lots.iter().map(|l| l.dark_weight()).sum();
        let dark = super::weighted(diary, self.work, |_| true).saturating_sub(before);
        let least = weight * opening.0 + order::bound(&pieces, diary.workers());
        let proof = if days == 1 && diary.workers() == 1 {
            Proof::Order
        } else {
            Proof::Shared
        };
        Slack(dark.saturating_sub(least), proof)
    }

    fn legs_time(&self) -> Seconds {
        let sets = self
            .work
            .lots
            .iter()
            .filter(|l| l.live_before && l.board.is_some() && l.circuits.len() > 1);
        self.times.legs * sets.count() as u64
    }

    fn pieces(&self, lots: &[&Lot<'j>]) -> Vec<Piece> {
        let place = |lot: usize| {
            let name = &self.work.lots[lot].name;
            lots.iter().position(|l| l.name == *name)
        };
        let each = lots.iter().map(|lot| Piece {
            time: (lot.take_over + lot.restore).0,
            weight: lot.dark_weight(),
            follows: lot.follows.and_then(place),
        });
        each.collect()
    }

    /// Start of these pieces when they are taken in this order, and their last end. What came on an earlier day holds nobody up.
    fn placed(
        &self,
        pieces: &[Piece],
        taken: &[usize],
        order: &[usize],
    ) -> (Vec<(usize, u64)>, u64) {
        let mut now: Vec<Piece> = pieces.to_vec();
        for piece in &mut now {
            piece.follows = piece.follows.filter(|p| taken.contains(p));
        }
        let order: Vec<usize> = order
            .iter()
            .copied()
            .filter(|i| taken.contains(i))
            .collect();
        let placed = order::schedule(&now, &order, usize::from(self.plan.workers));
        let ends = order.iter().map(|i| placed[*i].1 + pieces[*i].time);
        let last = ends.max().unwrap_or(0);
        (placed, last)
    }

    /// One lock-out of the old panel: takes some circuits over; the rest come back on the old panel.
    fn session(
        &self,
        diary: &mut Diary<'j>,
        lots: &[&Lot<'j>],
        pieces: &[Piece],
        (taken, rest): (&[usize], &[usize]),
        order: &[usize],
    ) {
        diary.gather();
        diary.dead = true;
        for i in taken.iter().chain(rest).filter(|i| !lots[**i].temporary) {
            diary.lights_out(&lots[*i].circuits, diary.now());
        }
        let time = self.times.lock_out * self.work.locks.len().max(1) as u64;
        diary.together(Entry::new(Step::LockOut, words::LOCK_OUT_OLD, time));
        words::dead_gates(diary, &self.work.locks);
        self.legs(diary);
        let start = diary.now();
        let (placed, _) = self.placed(pieces, taken, order);
        for i in order.iter().filter(|i| taken.contains(i)) {
            let lot = lots[*i];
            let (worker, at) = placed[*i];
            let joined = diary.at(
                worker,
                start + Seconds(at),
                Entry::new(Step::Land, words::LIFT_JOIN, lot.take_over).of(lot),
            );
            let end = diary.at(
                worker,
                joined,
                Entry::new(Step::Restore, words::RESTORE_NEW, lot.restore).of(lot),
            );
            if !lot.temporary {
                diary.lights_on(&lot.circuits, end);
            }
        }
        diary.gather();
        if !rest.is_empty() {
            diary.together(Entry::new(Step::Shorts, words::CAP_REST, self.times.shorts));
            diary.gate(GateKind::DeadTests, words::DEAD_TESTS_OLD);
            diary.together(Entry::new(Step::Prove, words::PROVE_OLD, self.times.prove));
            diary.gate(GateKind::VoltagesProven, self.identity);
            let now = diary.now();
            for i in rest {
                diary.lights_on(&lots[*i].circuits, now);
            }
        }
        diary.dead = false;
    }
}
