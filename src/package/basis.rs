//! The basis of design: publications, and what is assumed of the loads.

use super::ledger::Ledger;
use super::model::{Code, Span};
use crate::engine::{Earthquake, Results};
use crate::job::Job;
use crate::quantity::number;

/// The publications of a code basis: title and edition.
pub(super) fn codes(basis: &str) -> Vec<Code> {
    let all = [
        ("IBC 2021", "International Building Code, 2021 edition, International Code Council"),
        (
            "IRC 2021",
            "International Residential Code for One- and Two-Family Dwellings, 2021 edition, International Code Council",
        ),
        (
            "ASCE 7-16",
            "Minimum Design Loads and Associated Criteria for Buildings and Other Structures, ASCE/SEI 7-16, American Society of Civil Engineers",
        ),
        (
            "NDS 2018",
            "National Design Specification for Wood Construction, ANSI/AWC NDS-2018, and its Supplement, American Wood Council",
        ),
        (
            "AISC 360-16",
            "Specification for Structural Steel Buildings, ANSI/AISC 360-16, American Institute of Steel Construction",
        ),
        ("ACI 318-19", "Building Code Requirements for Structural Concrete, ACI 318-19, American Concrete Institute"),
    ];
    // The basis that the job chose comes first.
    let (first, rest): (Vec<_>, Vec<_>) = all.into_iter().partition(|(short, _)| *short == basis);
    first.into_iter().chain(rest).map(|(short, title)| Code { short: short.into(), title: title.into() }).collect()
}

pub(super) fn loads_assumptions(job: &Job, results: &Results, ledger: &mut Ledger) {
    let mut assume = |text: String, cite: &str| ledger.assumptions.push((vec![Span::Text(text)], cite.into()));
    let signs = if job.loads.signs.is_empty() {
        "P acts along the post, down positive; H_x and H_y act on the base along x and y of the key plan.".to_string()
    } else {
        job.loads.signs.clone()
    };
    assume(signs, "sign convention");
    let cases = job.cases();
    let (derived, given): (Vec<&String>, Vec<&String>) =
        cases.iter().filter(|case| case.starts_with('W')).partition(|case| job.derived.contains(*case));
    if !given.is_empty() {
        let signs = if job.loads.both_signs {
            "Each wind case that is given acts as given and reversed"
        } else {
            "Each wind case that is given acts with its sign"
        };
        assume(
            format!(
                "{signs}. The wind on a post itself, which the reactions do not include, acts in the direction of the shear of its case."
            ),
            "ASCE 7-16 2.3.1, 2.4.1",
        );
    }
    if !derived.is_empty() {
        assume(
            "The calculated wind cases act with their signs: each direction has cases of its own, and none is reversed.".into(),
            "ASCE 7-16 2.3.1, 2.4.1, 27.3.2",
        );
    }
    if let Some(earthquake) = results.earthquake {
        assume(
            format!(
                "Seismic cases act in each direction with both signs, with ρ = {} and E_v = 0.2 S_DS D, S_DS = {}. Orthogonal combination (12.5) is not applied.",
                number(earthquake.rho, 4),
                number(earthquake.s_ds, 4)
            ),
            "ASCE 7-16 12.4.2",
        );
        overstrength(&earthquake, &mut assume);
    }
}

/// What is worked with overstrength, if anything.
fn overstrength(earthquake: &Earthquake, assume: &mut dyn FnMut(String, &str)) {
    let directions = ["x", "y"].into_iter().zip(earthquake.overstrength).zip(earthquake.cantilevers);
    for ((along, omega), cantilevers) in directions.filter(|((_, omega), _)| *omega > 1.0) {
        let what = match cantilevers {
            true => "Anchors, bases and foundations of cantilevered posts",
            false => "Anchors",
        };
        let omega = number(omega, 4);
        assume(
            format!(
                "{what} are also checked in overstrength combinations for earthquakes along {along}: E_mh = Ω_0 Q_E with Ω_0 = {omega}, and ρ = 1."
            ),
            if cantilevers {
                "ASCE 7-16 12.4.3, 12.2.5.2, 12.3.4.1"
            } else {
                "ASCE 7-16 12.4.3, 12.3.4.1; ACI 318-19 17.10"
            },
        );
    }
}
