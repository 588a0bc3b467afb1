//! What is done to each branch circuit: landed, lengthened, new, taken out?
//! Source: the difference of the two pictures. Labour units of the price book, feet of cable.

use model::house::{Circuit, Purpose};
use model::id::CircuitId;
use model::scope::{Change, CircuitChange, Scope, most_added};
use model::units::{Feet, Inches};
use model::{Job, Material, WiringMethod};
use shop::Count;

use super::cost::Pricer;
use super::line::{Because, Group, Lines, Name};
use super::works_on;
use crate::facts::Place;

/// One staple for each four and a half feet: a count of material, not a code distance.
const FEET_PER_STAPLE: f64 = 4.5;

/// Lines of all circuits but their breakers and their lengthening.
pub(super) fn lines<'a>(job: &'a Job, scope: &Scope, pricer: &Pricer<'_>, lines: &mut Lines<'a>) {
    for (id, circuit) in &job.before.circuits {
        if scope.circuit(id.as_str()).map(|c| c.change) == Some(Change::Removed) {
            let at = (
                Group::Circuits,
                Place::Circuit(id),
                Because::Work("taken out"),
            );
            lines.work(at, "remove-circuit", Count::whole(1));
            let _ = circuit;
        }
    }
    for (id, circuit) in &job.after.circuits {
        let Some(change) = scope.circuit(id.as_str()) else {
            continue;
        };
        if circuit.purpose != Purpose::Spare {
            one(id, circuit, change, job, scope, pricer, lines);
        }
    }
}

fn one<'a>(
    id: &'a CircuitId,
    circuit: &'a Circuit,
    change: &CircuitChange,
    job: &'a Job,
    scope: &Scope,
    pricer: &Pricer<'_>,
    lines: &mut Lines<'a>,
) {
    let place = Place::Circuit(id);
    let new = matches!(change.change, Change::New | Change::Replaced);
    let landed = works_on(scope, &circuit.board) || change.other_board;
    if !new && !landed {
        return;
    }
    let because = Because::Work(match change.change {
        Change::New => "new",
        Change::Replaced => "rewired",
        _ if change.other_board => "comes from another board",
        _ => "its board is new",
    });
    let at = (Group::Circuits, place, because);
    let tests = (Group::SafetyAndTests, place, because);
    let one = Count::whole(1);
    if new {
        lines.work(at, "new-circuit", one);
        new_cable(id, circuit, job, pricer, at, lines);
    } else {
        lines.work(tests, "tag-circuit", one);
        lines.work(at, "reland-circuit", one);
    }
    // The second circuit of a shared-neutral set brings one more hot; neutral and ground are counted with the first.
    let second = partner(id, circuit, job).is_some_and(|(other, _)| other < id);
    let terminations = if second {
        1
    } else {
        2 + i64::from(circuit.poles)
    };
    lines.work(tests, "torque-termination", Count::whole(terminations));
    lines.work(tests, "dead-test-circuit", one);
    lines.work(tests, "restore-circuit", one);
}

fn new_cable<'a>(
    id: &'a CircuitId,
    circuit: &'a Circuit,
    job: &'a Job,
    pricer: &Pricer<'_>,
    at: (Group, Place<'a>, Because<'a>),
    lines: &mut Lines<'a>,
) {
    let length = circuit.length.get().and_then(|l| Count::of(l.0));
    let Some(length) = length else {
        lines.gap(
            format!("cable of circuit {id}"),
            format!("say `after.circuits.{id}.length`, in feet"),
        );
        return;
    };
    lines.work(at, "new-circuit-foot", length);
    cable(id, circuit, job, length, pricer, at, lines);
    lines.part(at, "box-and-cover", Count::whole(1));
}

/// A circuit that is landed and that nobody can name: somebody will have to trace it, unless somebody can tell after all.
pub(super) fn must_be_traced(id: &CircuitId, circuit: &Circuit, scope: &Scope) -> bool {
    let new_here = scope
        .circuit(id.as_str())
        .is_none_or(|c| matches!(c.change, Change::New | Change::Replaced));
    circuit.rooms.is_unknown() && !new_here && works_on(scope, &circuit.board)
}

/// Lines of the lengthening of every circuit whose length is known, and gaps where nobody can tell it.
pub(super) fn extensions<'a>(
    job: &'a Job,
    scope: &Scope,
    pricer: &Pricer<'_>,
    lines: &mut Lines<'a>,
) {
    for (id, change) in &scope.circuits {
        let Some((id, circuit)) = job.after.circuits.get_key_value(id) else {
            continue;
        };
        if circuit.purpose == Purpose::Spare
            || matches!(change.change, Change::New | Change::Replaced)
        {
            continue;
        }
        match length(change) {
            Some(added) => extension(id, circuit, job, scope, added, pricer, lines),
            None if change.extended.get() == Some(false) => {}
            None if most_added(job, id.as_str()).is_some() => {}
            None => lines.gap(
                format!("what circuit {id} is lengthened by"),
                format!("say `after.circuits.{id}.added_outside`, or where the board goes"),
            ),
        }
    }
}

/// What a cable is lengthened by: outside enclosures, or in all where only that is known.
fn length(change: &CircuitChange) -> Option<Inches> {
    change
        .added_total
        .get()
        .or_else(|| change.added_outside.get())
}

/// Lines of a circuit that is lengthened by so much.
pub(super) fn extension<'a>(
    id: &'a CircuitId,
    circuit: &'a Circuit,
    job: &'a Job,
    scope: &Scope,
    added: Inches,
    pricer: &Pricer<'_>,
    lines: &mut Lines<'a>,
) {
    if added.0 <= 0.0 {
        return;
    }
    // One cable with three wires lengthens both circuits of a shared-neutral set: it is counted once, at the longer of the two.
    if let Some((other, _)) = partner(id, circuit, job) {
        let theirs = scope.circuit(other.as_str()).and_then(length);
        let theirs = theirs.unwrap_or(Inches::ZERO).0;
        if theirs > added.0 || (theirs == added.0 && other < id) {
            return;
        }
    }
    let at = (
        Group::Circuits,
        Place::Circuit(id),
        Because::Work("lengthened to the new place"),
    );
    let Some(length) = Count::of(Feet::from(added).0) else {
        lines.gap(
            format!("what circuit {id} is lengthened by"),
            format!("{added} cannot be: correct the places"),
        );
        return;
    };
    let one = Count::whole(1);
    lines.work(at, "extend-circuit", one);
    lines.work(at, "extend-foot", length);
    lines.work(at, "splice-set", one);
    let conductors = insulated(id, circuit, job) + 1;
    let large = circuit.wire.known().is_some_and(|w| {
        let limit = "8".parse::<model::WireSize>().ok();
        limit.is_some_and(|limit| w.size >= limit)
    });
    let connector = match circuit.wire.known().map(|w| w.material) {
        Some(Material::Aluminum) => "al-cu-connector",
        _ if large => "wire-connector-large",
        _ => "wire-connector",
    };
    lines.part(at, connector, Count::whole(conductors));
    cable(id, circuit, job, length, pricer, at, lines);
}

/// Cable with its connectors and staples.
fn cable<'a>(
    id: &'a CircuitId,
    circuit: &'a Circuit,
    job: &'a Job,
    length: Count,
    pricer: &Pricer<'_>,
    at: (Group, Place<'a>, Because<'a>),
    lines: &mut Lines<'a>,
) {
    let bought = length.and(pricer.rates.wire_waste());
    let (Some(wire), Some(method)) = (circuit.wire.known(), circuit.method.get()) else {
        let field = if circuit.wire.is_unknown() {
            "wire"
        } else {
            "method"
        };
        lines.gap(
            format!("cable of circuit {id}"),
            format!("say `circuits.{id}.{field}`"),
        );
        return;
    };
    let conductors = insulated(id, circuit, job);
    let size = size(wire.size.name());
    if let Some(raceway) = raceway(method) {
        lines.part(at, format!("raceway-{raceway}"), length);
        let each = bought.times(Count::whole(conductors + 1));
        lines.part(at, format!("wire-{size}-cu"), each);
        return;
    }
    let name = match method {
        WiringMethod::SER | WiringMethod::SEU => {
            let (kind, metal) = (sheath(method), metal(wire.material));
            format!("cable-{kind}-{size}-{metal}-3")
        }
        // Copper lengthens old aluminum branch wiring; nobody runs that anew.
        _ => format!("cable-{}-{size}-cu-{conductors}", sheath(method)),
    };
    lines.part(at, name, bought);
    lines.part(at, "cable-connector", Count::whole(2));
    let staples = (length.hundredths() as f64 / 100.0 / FEET_PER_STAPLE).ceil() as i64;
    lines.part(at, "staple", Count::whole(staples));
}

/// Insulated conductors: two, or three where two hots share a neutral. A two-pole circuit whose loads do not all say that they use no
/// neutral is taken to have one.
pub(crate) fn insulated(id: &CircuitId, circuit: &Circuit, job: &Job) -> i64 {
    let no_neutral = !circuit.loads.is_empty()
        && circuit.loads.iter().all(|l| {
            let load = job.after.loads.get(l);
            load.is_some_and(|l| l.uses_neutral.get() == Some(false))
        });
    let shared = partner(id, circuit, job).is_some();
    if shared || (circuit.poles > 1 && !no_neutral) {
        3
    } else {
        2
    }
}

/// The other circuit of a shared-neutral set on the same board.
fn partner<'a>(
    id: &CircuitId,
    circuit: &'a Circuit,
    job: &'a Job,
) -> Option<(&'a CircuitId, &'a Circuit)> {
    let (other, found) = job
        .after
        .circuits
        .get_key_value(circuit.shared_with.as_ref()?)?;
    (found.board == circuit.board && other != id).then_some((other, found))
}

/// A size as names of the book write it.
pub(crate) fn size(name: &str) -> Name<'static> {
    Name::Owned(name.replace('/', "-"))
}

/// A raceway as names of the book write it; `None` for cables.
pub(crate) fn raceway(method: WiringMethod) -> Option<&'static str> {
    match method {
        WiringMethod::EMT => Some("emt"),
        WiringMethod::RMC => Some("rmc"),
        WiringMethod::Pvc40 => Some("pvc-40"),
        WiringMethod::Pvc80 => Some("pvc-80"),
        WiringMethod::FMC => Some("fmc"),
        WiringMethod::ENT => Some("ent"),
        WiringMethod::LfncB => Some("lfnc-b"),
        _ => None,
    }
}

/// A cable as names of the book write it. Old open wiring is lengthened in nonmetallic cable.
pub(crate) fn sheath(method: WiringMethod) -> &'static str {
    match method {
        WiringMethod::SER => "ser",
        WiringMethod::SEU => "seu",
        WiringMethod::AC => "ac",
        WiringMethod::MC => "mc",
        WiringMethod::UF => "uf",
        WiringMethod::USE => "use",
        _ => "nm",
    }
}

/// A metal as names of the book write it.
pub(crate) const fn metal(material: Material) -> &'static str {
    match material {
        Material::Copper => "cu",
        Material::Aluminum | Material::CopperClad => "al",
    }
}
