//! The sentences of a cut-over: tasks, gates, locks, warnings, what the customer is told. Safety first, in plain words.
//! Source: order of work of the trade. English here; other languages look the sentences up by name.

use model::Job;
use model::house::System;
use model::plan::Plan;

use super::diary::{Diary, GateKind};
use super::locks::Lock;
use super::lots::Lot;
use super::time::Seconds;
use super::work::{FeederEnd, Panel};
use crate::patterns;
use crate::saying::{Pattern, Saying};
use crate::tree::Role;

patterns! {
    BOARD "cut-board" "board {id}";
    BOARD_NAMED "cut-board-named" "board {id} ({name})";

    TIME "cut-time" "{time}";
    TIME_OF_DAY "cut-time-of-day" "day {day} {time}";
    SPAN "cut-span" "{from} to {to}";

    // Tasks.
    SET_UP "cut-set-up" "arrive and set up";
    MOUNT_NEW "cut-mount-new" "mount the new cabinet of {panel}";
    RUN_EXTENSION "cut-run-extension" "run the extension, land it on the new panel, which is dead, torque it";
    MAP "cut-map" "photograph and map, cover on";
    TEMPORARY "cut-temporary" "set up temporary power that cannot feed back";
    TO_TEMPORARY "cut-to-temporary" "change its loads over to temporary power";
    FROM_TEMPORARY "cut-from-temporary" "change its loads back from temporary power";
    LOCK_OUT "cut-lock-out" "lock out, tag, test dead with six readings";
    LOCK_OUT_BOARDS "cut-lock-out-boards" "lock out {boards}, tag, test dead with six readings";
    SUPPLY_END "cut-supply-end" "land the feeder's supply end in {boards}, torque and record it, cover on";
    ENERGIZE_ABOVE "cut-energize-above" "energize {boards}, prove the voltages; the new feeder's device stays locked off";
    TORQUE_FEEDER "cut-torque-feeder" "feeder {feeder}: torque, mark and record its terminations";
    TORQUE "cut-torque" "torque, mark and record its terminations";
    SHORTS_CAPPED "cut-shorts-capped" "cap and tag what is not landed; short check at the bus, all breakers off; cover on";
    SHORTS "cut-shorts" "short check at the bus, all breakers off; cover on";
    PROVE "cut-prove" "energize with all branches off, prove the voltages";
    LEGS "cut-legs" "note the leg of each hot of the shared neutrals, tag conductors";
    RESTORE "cut-restore" "switch on, measure, see that it runs";
    CHECKS "cut-checks" "load check, arc-fault and ground-fault test buttons, record";
    TAKE_OUT "cut-take-out" "take out the old cabinet of {panel}, dead, close the opening";
    DIRECTORY "cut-directory" "directory and labels of {panel}";
    CLEAN_UP "cut-clean-up" "clean up, walk through with the customer";
    NEW_INTERIOR "cut-new-interior" "new interior in the cabinet of {panel}";
    SPLICE_BOX "cut-splice-box" "empty the old cabinet of {panel}, make a splice box of it";
    DOWN_AND_UP "cut-down-and-up" "take the old panel of {panel} down, mount the new one";
    FEEDER_SUPPLY "cut-feeder-supply" "land feeder {feeder} on its device in board {board}";
    FEEDER_LOAD "cut-feeder-load" "land feeder {feeder} on board {board}: ground first, then neutral, then hots";
    LAND_JOIN "cut-land-join" "dead tests with the neutral lifted, join to its extension";
    LAND_LENGTHEN "cut-land-lengthen" "lengthen, dead tests with the neutral lifted, land";
    LAND "cut-land" "dead tests with the neutral lifted, land";

    // Tasks of the new panel first.
    RUN_NEW_CABLE "cut-run-new-cable" "run its new cable, land it on the new panel, which is dead, torque it";
    SHORTS_NEW "cut-shorts-new" "short check at the new bus, all breakers off; cover on";
    PROVE_NEW "cut-prove-new" "energize the new panel with all branches off, prove the voltages";
    EMPTY_LOCK_OUT "cut-empty-lock-out" "the old panel is empty: lock out, tag, test dead with six readings";
    EMPTY_OLD "cut-empty-old" "empty the old cabinet of {panel}, dead, and cover it";
    OWN_BOX "cut-own-box" "lock off, test dead, cut over in its own box, close the box";
    RESTORE_NEW "cut-restore-new" "switch on from the new panel, measure, see that it runs";
    LOCK_OUT_OLD "cut-lock-out-old" "lock out the old panel, tag, test dead with six readings";
    LIFT_JOIN "cut-lift-join" "lift out of the old cabinet, dead tests, join to its new cable, close the box";
    CAP_REST "cut-cap-rest" "cap and tag what is left, short check, cover on";
    PROVE_OLD "cut-prove-old" "energize the old panel for the circuits still on it, prove the voltages";

    // Gates.
    LOCKED "cut-gate-locked" "{locks}";
    TESTED_DEAD "cut-gate-tested-dead" "tester on a known live source; L1-G, L2-G, L1-N, L2-N, L1-L2, N-G all dead; tester on the live source again, same tester";
    BOND_IN "cut-gate-bond-in" "{panel}: service: neutral-to-cabinet bond IN";
    BOND_OUT "cut-gate-bond-out" "{panel}: subpanel: neutral-to-cabinet bond OUT, neutrals and grounds on separate bars";
    BOND_UNKNOWN "cut-gate-bond-unknown" "{panel}: its place in the supply is not known: do not energize before it is";
    DEAD_TESTS "cut-gate-dead-tests" "no short at the bus; what failed a dead test stays off, tagged, with reason and next step";
    DEAD_TESTS_OLD "cut-gate-dead-tests-old" "no short at the old bus; lifted conductors capped and tagged";
    TORQUE_DONE "cut-gate-torque" "every termination torqued to the value marked on the equipment, marked, recorded";
    TORQUE_FEEDER_DONE "cut-gate-torque-feeder" "feeder terminations in {boards} torqued, marked, recorded";
    EACH_LOCKED "cut-gate-each-locked" "each circuit, before its cable is cut: its breaker in the old panel and in the new one locked off and tagged";
    EACH_DEAD "cut-gate-each-dead" "each circuit, before its cable is cut: tester on a known live source, the cable dead, tester on the live source again";
    IDENTITY_240 "cut-gate-identity-240" "L1-N and L2-N near 120 V, L1-N + L2-N = L1-L2 within 1 to 2 V, N-G near 0 V; if not, open the main at once; only then loads come on";
    IDENTITY_208 "cut-gate-identity-208" "L1-N and L2-N near 120 V and equal, L1-L2 = 1.73 x L1-N within 2 V (208 V; the legs do not add up here), N-G near 0 V; if not, open the main at once; only then loads come on";
    IDENTITY_UNKNOWN "cut-gate-identity-unknown" "L1-N and L2-N near 120 V; L1-L2 their sum on 120/240 V, 1.73 times one of them on 208Y/120 V (system not known: find out); N-G near 0 V; if not, open the main at once; only then loads come on";

    // Locks.
    LOCK_SUPPLY_UNKNOWN "cut-lock-supply-unknown" "the supply of board {board} is not known: find it first";
    LOCK_UNFED "cut-lock-unfed" "nothing feeds board {board} in the job file: find its supply before anything else";
    LOCK_FEEDER "cut-lock-feeder" "open and lock the device of feeder {feeder} in board {from}; board {board} and all below it go dark";
    LOCK_FEEDER_AMPS "cut-lock-feeder-amps" "open and lock the {amps} device of feeder {feeder} in board {from}; board {board} and all below it go dark";
    LOCK_UTILITY "cut-lock-utility" "the utility disconnects board {board} at the meter or the pole; the contractor cannot make it dead";
    LOCK_MAIN "cut-lock-main" "open and lock the main of board {board}; its line side STAYS LIVE behind its barrier";
    LOCK_PHOTOVOLTAIC "cut-lock-photovoltaic" "stop the photovoltaic inverter {source}, open and lock its disconnect at board {board}, wait out its stored energy";
    LOCK_BATTERY "cut-lock-battery" "stop the battery {source}, open and lock its disconnect at board {board}, wait out its stored energy";
    LOCK_GENERATOR "cut-lock-generator" "stop the generator {source}, open and lock its disconnect at board {board}, wait out its stored energy";

    // What a reader must know.
    TRANSFER_UNKNOWN "cut-transfer-unknown" "where circuits are taken over is not known: taken to be lifted out of the old cabinet; say `plan.transfer = \"own_box\"` if each cable can be cut outside it";
    TWO_FREE "cut-two-free" "two free spaces for the second feeder's device are needed in the board above";
    THREE_CROWD "cut-three-crowd" "three at one cabinet stand in each other's way; the times do not count that";
    UTILITY_NOT_NEEDED "cut-utility-not-needed" "the utility is not needed: the panel is locked out at its feeder's device";
    NEW_CABLE_APART "cut-new-cable-apart" "running the cable of new or rewired circuits is not part of this plan, only landing it: {circuits}";
    NEW_FEEDER_APART "cut-new-feeder-apart" "running new feeder conductors is taken to be done before the day; only their ends are in this plan";
    APART_UNKNOWN "cut-apart-unknown" "whether the new cabinet of {board} stands clear of the old one is not known: taken to be mounted while dead (say `position` and `cabinet`, or `route_from_old`)";
    EXTENDED_UNKNOWN "cut-extended-unknown" "extended or not is unknown, the longer work is planned: {circuits}";

    // What goes wrong with the plan.
    LIMIT_BROKEN "cut-limit-broken" "{circuit} ({why}) is dark for {time} on end; it can bear {most}";
    LIMIT_UNKNOWN "cut-limit-unknown" "{circuit} ({why}) is critical and dark for {time} on end; how long it can bear is not known: ask before the day";
    OVERNIGHT "cut-overnight" "dark overnight: {circuits}";
    DAYS "cut-days" "the work takes {days} days";
    SHIFT_OVER "cut-shift-over" "the shift of {shift} is run over by {over}: the dead period is longer than it leaves";
    BOOK_UTILITY "cut-book-utility" "the utility must disconnect and reconnect: book its window and the inspection, and say it in `plan.utility_window`";
    WINDOW_CLOSED "cut-window-closed" "the panel is ready only after the utility's window has closed: dark until it comes again";

    // What would better it.
    WAY_TEMPORARY "cut-way-temporary" "temporary power for {circuits}";
    WAY_DAY "cut-way-day" "a working day of {hours} h";
    WAY_WORKERS "cut-way-workers" "{workers} workers";
    WAY_ROUND "cut-way-round" "a restore round with a pause of {pause}";
    WAY_NEW_FIRST "cut-way-new-first" "new panel first, if a second feeder can run beside the old one and each cable can be cut over in a box of its own";

    // Why it cannot be done.
    CANNOT_ONE "cut-cannot-one" "exactly one panel must be new for it; here it is another number";
    CANNOT_CLEAR "cut-cannot-clear" "the new cabinet must stand clear of the old one; say where both are (`position` and `cabinet`, or `route_from_old`)";
    CANNOT_SERVICE "cut-cannot-service" "the panel must hang on a feeder; a service has one supply, which the utility moves";
    CANNOT_OTHERS "cut-cannot-others" "circuits are landed in other boards too; do it in one shutdown";
    CANNOT_FEEDER "cut-cannot-feeder" "the old feeder stays with the old panel until the end: say `plan.second_feeder = true` if another one can run beside it";
    CANNOT_SPLICE "cut-cannot-splice" "the old cabinet becomes the splice box, so hands are in it until the last join and nothing in it can be live before: say `plan.transfer = \"own_box\"` if each cable can be cut outside it";

    // What the customer is told.
    TELL_COMPUTERS "cut-tell-computers" "shut down computers and unplug sensitive things before the first hour of the plan";
    TELL_CLEAR "cut-tell-clear" "clear 3 ft in front of the old and the new panel; keep pets and children away";
    TELL_MEDICAL "cut-tell-medical" "anyone who depends on powered medical equipment: agree on another source first, or the job does not start";
    TELL_FRIDGE "cut-tell-fridge" "keep refrigerator and freezer doors shut";
    TELL_HEAT "cut-tell-heat" "heat or cool the house well beforehand";
    TELL_WELL "cut-tell-well" "draw water beforehand: the well pump is dark";
    TELL_SUMP "cut-tell-sump" "the sump pump is dark: no washing and no bathing that drains into the sump, and look at the weather";
    TELL_GARAGE "cut-tell-garage" "take the car out of the garage if its door is powered";
    TELL_ALARMS "cut-tell-alarms" "smoke alarms run on their batteries meanwhile: press their test buttons the day before; tell the alarm company";
}

/// The utility's window, from and to, counted from the crew's arrival.
pub(super) fn window(plan: &Plan) -> Option<(Seconds, Seconds)> {
    let (window, start) = (plan.utility_window?, plan.start?);
    let since = |minutes: u16| Seconds(u64::from(minutes.saturating_sub(start.minutes())) * 60);
    Some((since(window.from.minutes()), since(window.to.minutes())))
}

pub(super) fn panel(panel: &Panel<'_>) -> Saying {
    if panel.name.is_empty() {
        BOARD.with("id", panel.id)
    } else {
        BOARD_NAMED.with("id", panel.id).with("name", panel.name)
    }
}

/// A sentence about a panel.
pub(super) fn of_panel(pattern: Pattern, of: &Panel<'_>) -> Saying {
    Saying::from(pattern).with_saying("panel", panel(of))
}

pub(super) fn feeder_end(end: &FeederEnd<'_>) -> Saying {
    let pattern = if end.is_supply_end {
        FEEDER_SUPPLY
    } else {
        FEEDER_LOAD
    };
    pattern.with("feeder", end.feeder).with("board", end.board)
}

pub(super) fn landing(lot: &Lot<'_>) -> Pattern {
    if lot.prepare > Seconds::ZERO {
        LAND_JOIN
    } else if lot.extended != Some(false) {
        LAND_LENGTHEN
    } else {
        LAND
    }
}

/// Locked out, and tested dead.
pub(super) fn dead_gates(diary: &mut Diary<'_>, locks: &[Lock<'_>]) {
    let words = locks.iter().map(|l| l.words.clone()).collect();
    let locked = Saying::from(LOCKED).with_all("locks", words);
    diary.gate(GateKind::LockedOut, locked);
    diary.gate(GateKind::TestedDead, TESTED_DEAD);
}

/// Before anything is energized: bond, dead tests, torque.
pub(super) fn proof_gates(diary: &mut Diary<'_>, panels: &[Panel<'_>]) {
    for p in panels.iter().filter(|p| p.stays) {
        let bond = match p.role {
            Role::Service => BOND_IN,
            Role::FeederFed => BOND_OUT,
            Role::Unfed => BOND_UNKNOWN,
        };
        diary.gate(GateKind::BondState, of_panel(bond, p));
    }
    diary.gate(GateKind::DeadTests, DEAD_TESTS);
    diary.gate(GateKind::TorqueDone, TORQUE_DONE);
}

/// The identity of voltages that shows a sound neutral, by system.
pub(super) fn identity(job: &Job) -> Pattern {
    match job.after.dwelling.system.get() {
        Some(System::SinglePhase120_240) => IDENTITY_240,
        Some(System::TwoLegs208Y120) => IDENTITY_208,
        None => IDENTITY_UNKNOWN,
    }
}
