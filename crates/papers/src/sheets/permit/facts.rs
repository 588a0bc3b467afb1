//! What the cover says of house and service, in pairs of words. What nobody knows is written as not known.

use model::Fact;
use model::house::{DwellingKind, House, System};

use crate::material::Material;
use crate::words::say;

/// Label and value of each.
pub(super) fn of_job(material: &Material<'_>) -> Vec<[String; 2]> {
    let language = material.setting.language;
    let word = |name: &str| say(language, name, &[]);
    let report = material.report;
    let house = &report.job.after;
    let dwelling = &house.dwelling;
    let kind = match dwelling.kind.get() {
        Some(DwellingKind::OneFamily) => word("permit-one-family"),
        Some(DwellingKind::TwoFamily) => word("permit-two-family"),
        Some(DwellingKind::Multifamily) => word("permit-multifamily"),
        Some(DwellingKind::Other) => word("permit-other-kind"),
        None => word("permit-unknown"),
    };
    let service = report
        .tree
        .services()
        .map(|s| format!("{}: {}", s.id, told(material, &s.protected_by)));
    let service: Vec<String> = service.collect();
    let load = report.sheets.service_load().and_then(|c| c.recommended());
    let load = load.map_or_else(
        || word("permit-unknown"),
        |o| match o.rounded.exact() {
            Some(a) => format!("{a} ({})", o.method),
            None => say(
                language,
                "permit-at-least",
                &[("value", &o.rounded.lower_bound().to_string())],
            ),
        },
    );
    let pair = |name: &str, value: String| [word(name), value];
    vec![
        pair("permit-dwelling", kind),
        pair("permit-area", told(material, &dwelling.area)),
        pair("permit-year", told(material, &dwelling.year_built)),
        pair("permit-system", system(material, house)),
        pair(
            "permit-service",
            if service.is_empty() {
                word("permit-unknown")
            } else {
                service.join(", ")
            },
        ),
        pair("permit-load", load),
        pair(
            "permit-fault-current",
            told(material, &house.supply.fault_current),
        ),
    ]
}

/// Voltage, phase and wires.
pub(super) fn system(material: &Material<'_>, house: &House) -> String {
    match house.dwelling.system.get() {
        Some(System::SinglePhase120_240) => "120/240 V, 1 ph, 3 W".to_owned(),
        Some(System::TwoLegs208Y120) => "208Y/120 V, 2 L + N".to_owned(),
        None => say(material.setting.language, "permit-unknown", &[]),
    }
}

/// The value, or that it is not known.
pub(super) fn told<T: std::fmt::Display>(material: &Material<'_>, fact: &Fact<T>) -> String {
    match fact.known() {
        Some(value) => value.to_string(),
        None => say(material.setting.language, "permit-unknown", &[]),
    }
}
