//! Everything but the worked pages: cover, summary, plan, basis of design,
//! loads and appendix.

use super::ledger::{Ledger, spans_text};
use super::model::{
    Assumption, BalanceRow, Case, Clause, Code, Combination, CombinationRow, Failure, Group, GroupRef, HandedRow,
    InputFile, JobCard, Package, PagesRef, ReactionRow, Report, Revision, ScheduleTable, Span, SummaryRow, TableSource,
    Verdict,
};
use super::open::open;
use super::own::own;
use super::plain::sheets;
use super::worked::{group, title};
use crate::drawing::{PlanPost, plan};
use crate::engine::{
    Derived, Earthquake, GroupResult, Limit, Made, Results, Shown, Worked, base_level, described, made, roof_area,
    schedules, sides,
};
use crate::job::{CATALOGUES, Job, Post};
use crate::quantity::{Units, number, number_fixed};
use crate::sheet::PageKind;
use crate::verdict::Verdict as Stand;

/// The frame of the key plan on a letter page, in points.
const PLAN: [f64; 2] = [500.0, 560.0];

/// The whole package, and the worked pages by the file that holds them: loads
/// first, then each group.
pub fn build(worked: &Worked, verdict: &Stand, program: &str, digest: &str) -> (Package, Vec<(String, Group)>) {
    let Worked { root, results, loads, lines } = worked;
    let (job, library) = (root.job, root.library);
    let mut ledger = Ledger::default();
    for text in &job.assumptions {
        ledger.assumptions.push((vec![Span::Text(text.clone())], "stated by the job".into()));
    }
    loads_assumptions(job, results, &mut ledger);
    let mut pages: Vec<(String, Group)> = Vec::new();
    let mut areas: Vec<(Vec<usize>, [f64; 4])> = Vec::new();
    for (root, result) in loads.iter().flat_map(|(root, loads)| loads.groups.iter().map(move |group| (root, group))) {
        let shown = Shown::new(root, &[], result);
        areas.extend(roof_area(shown.worked(0)).map(|area| (result.posts.clone(), area)));
        let page = group(job, library, &[], &shown, 'L', Vec::new(), &mut ledger);
        pages.push((format!("/loads-{}.json", result.no), page));
    }
    for (no, (title, root, result)) in lines.iter().enumerate() {
        let shown = Shown::new(root, &[], result);
        let page = Group { title: title.clone(), ..group(job, library, &[], &shown, 'R', Vec::new(), &mut ledger) };
        pages.push((format!("/line-{no}.json"), page));
    }
    let load_values = std::mem::take(&mut ledger.values).tables();
    let balance = loads.iter().flat_map(|(_, loads)| balance(job, loads)).collect();
    let loads =
        pages.iter().map(|(file, worked)| PagesRef { title: worked.title.clone(), file: file.clone() }).collect();
    let made: Vec<(&GroupResult, Made)> =
        results.groups.iter().map(|group| (group, made(root, results, group))).collect();
    let described: Vec<String> = made.iter().map(|(_, worked)| described(worked)).collect();
    let sizes: Vec<[f64; 2]> = made.iter().map(|(_, worked)| sides(worked)).collect();
    let mut highest = Vec::new();
    for (result, described) in results.groups.iter().zip(&described) {
        let facts = facts(&job.posts[result.posts[0]], described);
        // The steps of a group are forgotten once its pages are made.
        let shown = Shown::new(root, &results.combinations, result);
        let page = group(job, library, &results.combinations, &shown, 'B', facts, &mut ledger);
        pages.push((format!("/group-{}.json", result.no), page));
        highest.push(shown.highest());
    }

    let package = Package {
        job: card(job),
        program: program.into(),
        metric: job.units == Units::Metric,
        force: job.units.force_unit(),
        line_load: job.units.line_load_unit(),
        digest: digest.into(),
        demo: job.demo(),
        verdict: failures(job, results, verdict, &ledger),
        open: open(job, verdict),
        revisions: job
            .revisions
            .iter()
            .map(|row| Revision { no: row.no.clone(), date: row.date.clone(), what: row.what.clone() })
            .collect(),
        codes: codes(&job.basis),
        summary: job
            .posts
            .iter()
            .enumerate()
            .map(|(at, post)| SummaryRow {
                open: verdict.open_of(at),
                ..summary(post, results, results.group_of[at], &described, &ledger)
            })
            .collect(),
        plan_key: plan_key(job, results, &described).1,
        plan: key_plan(job, &areas, results, &described, &sizes),
        assumptions: ledger
            .assumptions
            .iter()
            .enumerate()
            .map(|(at, (text, cite))| Assumption { no: format!("A{}", at + 1), text: text.clone(), cite: cite.clone() })
            .collect(),
        own: own(job, library, &ledger),
        not_covered: ledger.not_covered.iter().map(|spans| spans_text(spans)).collect(),
        cases: job.cases().into_iter().map(|name| Case { what: what(&name), name }).collect(),
        combinations: combinations(results),
        handed: handed(job, results),
        balance,
        groups: results
            .groups
            .iter()
            .zip(&highest)
            .map(|(group, highest)| group_ref(job, results, group, highest))
            .collect(),
        loads,
        load_values,
        values: ledger.values.tables(),
        schedules: schedules(job, &made)
            .into_iter()
            .map(|table| ScheduleTable {
                title: table.title.into(),
                header: table.header.into_iter().map(String::from).collect(),
                rows: table.rows,
            })
            .collect(),
        shop: sheets(job, &made, PageKind::Shop, &ledger),
        field: sheets(job, &made, PageKind::Field, &ledger),
        inputs: job
            .files
            .iter()
            .map(|file| InputFile { name: file.name.clone(), header: file.header.clone(), rows: file.rows.clone() })
            .collect(),
        reports: reports(job),
        sources: sources(&ledger),
        clauses: ledger
            .clauses
            .iter()
            .map(|(cite, lines)| Clause { cite: cite.clone(), lines: lines.clone() })
            .collect(),
    };
    (package, pages)
}

fn card(job: &Job) -> JobCard {
    let card = &job.card;
    JobCard {
        name: card.name.clone(),
        place: card.place.clone(),
        number: card.number.clone(),
        client: card.client.clone(),
        date: card.date.to_string(),
        revision: card.revision.clone(),
        prepared_by: card.prepared_by.clone(),
        checked_by: card.checked_by.clone(),
    }
}

/// The publications of a code basis: title and edition.
fn codes(basis: &str) -> Vec<Code> {
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

fn loads_assumptions(job: &Job, results: &Results, ledger: &mut Ledger) {
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
            "Each wind case that is given acts with its sign; every direction has a case of its own"
        };
        assume(
            format!(
                "{signs}. The wind on a post itself, which the reactions do not hold, pushes the way that the shear of its case does."
            ),
            "ASCE 7-16 2.3.1, 2.4.1",
        );
    }
    if !derived.is_empty() {
        assume(
            "The wind cases that are worked out act with their signs: each direction has cases of its own, and none is reversed.".into(),
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
            true => "Anchors, bases and foundations, which hold posts that stand as cantilevers,",
            false => "Anchors",
        };
        let omega = number(omega, 4);
        assume(
            format!(
                "{what} are also worked in overstrength combinations for earthquakes along {along}: E_mh = Ω_0 Q_E with Ω_0 = {omega}, and ρ = 1."
            ),
            if cantilevers {
                "ASCE 7-16 12.4.3, 12.2.5.2, 12.3.4.1"
            } else {
                "ASCE 7-16 12.4.3, 12.3.4.1; ACI 318-19 17.10"
            },
        );
    }
}

/// The post as the order list has it, and what it chose from each catalogue.
fn facts(post: &Post, described: &str) -> Vec<(String, String)> {
    std::iter::once(("post".to_string(), described.to_string())).chain(chosen(post)).collect()
}

/// What a post chose from each catalogue: its base, its foundation, its anchors.
pub(super) fn chosen(post: &Post) -> Vec<(String, String)> {
    let chosen = CATALOGUES.iter().filter_map(|catalogue| {
        let entry = post.entries.get(catalogue.name)?;
        Some((catalogue.column.to_string(), entry.name.clone()))
    });
    chosen.collect()
}

fn marks(job: &Job, group: &GroupResult) -> Vec<String> {
    group.posts.iter().map(|post| job.posts[*post].mark.clone()).collect()
}

/// The sentence of the whole job, and each limit that is not met.
fn failures(job: &Job, results: &Results, stand: &Stand, ledger: &Ledger) -> Verdict {
    let mut failures = Vec::new();
    for group in &results.groups {
        for limit in group.limits.iter().filter(|limit| !limit.ok()) {
            failures.push(Failure {
                marks: marks(job, group).join(", "),
                limit: format!("{}: {}", limit.title(), limit.rule().say),
                remedy: limit.rule().remedy.clone(),
                line: ledger.line_of(group.no, limit),
            });
        }
    }
    Verdict { ok: results.ok(), headline: stand.headline.clone(), failures }
}

/// The ratio as printed, and as the length of a bar.
fn ratio(limit: &Limit) -> (String, Option<f64>) {
    match limit.ratio() {
        Some(ratio) if ratio.is_finite() => (number_fixed(ratio, 3), Some(ratio)),
        _ => ("–".into(), None),
    }
}

fn combination_name(results: &Results, limit: &Limit) -> String {
    if limit.varies() { results.combinations[limit.run()].name.clone() } else { String::new() }
}

fn summary(post: &Post, results: &Results, group_at: usize, described: &[String], ledger: &Ledger) -> SummaryRow {
    let group = &results.groups[group_at];
    let governing = group.governing();
    let (ratio, fill) = governing.map_or(("–".into(), None), ratio);
    SummaryRow {
        mark: post.mark.clone(),
        group: group.no,
        post: described[group_at].clone(),
        base: post.base().to_string(),
        limit: governing.map_or(String::new(), |limit| limit.rule().say.clone()),
        sheet: governing.map_or(String::new(), |limit| limit.title().to_string()),
        cite: governing.and_then(|limit| limit.rule().cite.clone()).unwrap_or_default(),
        combination: governing.map_or(String::new(), |limit| combination_name(results, limit)),
        ratio,
        fill,
        ok: group.ok(),
        open: 0,
        line: governing.map_or(String::new(), |limit| ledger.line_of(group.no, limit)),
        met: group.limits.iter().filter(|limit| !limit.is_fit() && limit.ok()).count(),
        limits: group.limits.iter().filter(|limit| !limit.is_fit()).count(),
    }
}

/// Letters for bases with their posts, numbers for foundations, in the order in
/// which they are met; and what each stands for.
fn plan_key(job: &Job, results: &Results, described: &[String]) -> (Vec<String>, Vec<(String, String)>) {
    let (mut bases, mut foundations): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    let place = |known: &mut Vec<String>, what: String| {
        known.iter().position(|other| *other == what).unwrap_or_else(|| {
            known.push(what);
            known.len() - 1
        })
    };
    let letter = |at: usize| char::from(b'a' + (at % 26) as u8);
    let marks = job.posts.iter().zip(&results.group_of).map(|(post, group)| {
        let base = letter(place(&mut bases, format!("{}, post {}", post.base(), described[*group])));
        let foundation = post.entries.get("foundations").map(|entry| place(&mut foundations, entry.name.clone()) + 1);
        format!("{base}{}", foundation.map_or(String::new(), |no| no.to_string()))
    });
    let marks = marks.collect();
    let bases = bases.into_iter().enumerate().map(|(at, what)| (letter(at).to_string(), format!("base {what}")));
    let foundations =
        foundations.into_iter().enumerate().map(|(at, what)| ((at + 1).to_string(), format!("foundation {what}")));
    (marks, bases.chain(foundations).collect())
}

/// `+1′-2″`: where the base of a post stands over the datum of the job.
fn level(units: Units, post: &Post) -> Option<String> {
    base_level(post).map(|feet| units.level(feet))
}

fn key_plan(
    job: &Job,
    areas: &[(Vec<usize>, [f64; 4])],
    results: &Results,
    described: &[String],
    sizes: &[[f64; 2]],
) -> crate::drawing::Drawing {
    let (kinds, _) = plan_key(job, results, described);
    let posts: Vec<PlanPost> = job
        .posts
        .iter()
        .enumerate()
        .map(|(at, post)| {
            let group = &results.groups[results.group_of[at]];
            let word = if group.ok() { "met" } else { "not met" };
            let ratio = group.governing().map_or("–".to_string(), |limit| ratio(limit).0);
            PlanPost {
                mark: post.mark.clone(),
                at: post.at,
                size: sizes[results.group_of[at]],
                ok: group.ok(),
                area: areas.iter().find(|(posts, _)| posts.contains(&at)).map(|(_, area)| *area),
                note: format!(
                    "{} {ratio} {word}{}",
                    kinds[at],
                    level(job.units, post).map_or(String::new(), |level| format!(", {level}"))
                ),
            }
        })
        .collect();
    plan(&posts, PLAN[0], PLAN[1], job.units)
}

pub(super) fn what(case: &str) -> String {
    match case {
        "D" => "dead load",
        "L" => "live load",
        "Lr" => "roof live load",
        "S" => "snow load",
        "R" => "rain load",
        "E" => "seismic load",
        "E_x" => "seismic load along x",
        "E_y" => "seismic load along y",
        _ => "wind load",
    }
    .into()
}

fn combinations(results: &Results) -> Vec<Combination> {
    let rows = results.combinations.iter().map(|combination| Combination {
        name: combination.name.clone(),
        method: method(combination.method),
        clause: combination.clause.clone(),
        c_d: combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2)),
    });
    rows.collect()
}

fn method(method: crate::sheet::Method) -> String {
    if method.is_asd() { "ASD".into() } else { "strength".into() }
}

/// The greatest of each force that is handed to others, by group.
fn handed(job: &Job, results: &Results) -> Vec<HandedRow> {
    let rows = results.groups.iter().flat_map(|group| group.handed.iter().map(move |handed| (group, handed)));
    rows.map(|(group, handed)| HandedRow {
        marks: marks(job, group),
        what: handed.rule.what.clone(),
        value: format!("{} {}", number(handed.value.in_unit(&handed.unit), 4), handed.unit.pretty()),
        combination: results.combinations[handed.run].name.clone(),
    })
    .collect()
}

/// What all posts bring in each case, and what reaches the ground.
fn balance(job: &Job, loads: &Derived) -> Vec<BalanceRow> {
    let cases = job.cases().into_iter().filter(|case| job.derived.contains(case));
    cases
        .map(|case| BalanceRow {
            brought: loads.brought(&case).map(|force| job.units.force_number(force)),
            ground: loads.ground(job, &case).map(|force| job.units.force_number(force)),
            case,
        })
        .collect()
}

fn group_ref(job: &Job, results: &Results, group: &GroupResult, ratios: &[Option<f64>]) -> GroupRef {
    let post = &job.posts[group.posts[0]];
    let force = |force| job.units.force_number(force);
    let reactions = job.cases().into_iter().filter_map(|case| {
        let reaction = post.reactions.get(&case)?;
        let [p, h_x, h_y] = [reaction.p, reaction.h_x, reaction.h_y].map(force);
        let [w_x, w_y] = [reaction.w_x, reaction.w_y].map(|w| job.units.line_load_number(w));
        Some(ReactionRow { case, p, h_x, h_y, w_x, w_y })
    });
    let highest = group.limits.iter().filter(|limit| limit.varies());
    let highest = highest.filter_map(|limit| Some((limit.ratio()?, limit.run())));
    let highest = highest.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1))).map(|(_, run)| run);
    let combinations = results.combinations.iter().zip(ratios).enumerate().map(|(at, (combination, best))| {
        let effect = combination.effect(&post.reactions);
        let ratio = best
            .map_or("–".to_string(), |ratio| if ratio.is_finite() { number_fixed(ratio, 3) } else { "over".into() });
        CombinationRow {
            name: combination.name.clone(),
            method: method(combination.method),
            c_d: combination.c_d.map_or(String::new(), |c_d| number_fixed(c_d, 2)),
            p: force(effect.p),
            h_x: force(effect.h_x),
            h_y: force(effect.h_y),
            ratio,
            governs: group
                .limits
                .iter()
                .any(|limit| limit.run() == at && limit.varies() && limit.ratio().is_some_and(|ratio| ratio > 0.0)),
            highest: highest == Some(at),
        }
    });
    GroupRef {
        no: group.no,
        title: title('B', group.no, &marks(job, group)),
        marks: marks(job, group),
        file: format!("/group-{}.json", group.no),
        reactions: reactions.collect(),
        combinations: combinations.collect(),
    }
}

/// The evaluation reports that the job's hardware cites, each entry once.
fn reports(job: &Job) -> Vec<Report> {
    let mut reports: Vec<Report> = Vec::new();
    for entry in job.posts.iter().flat_map(|post| post.entries.values()) {
        let part = |name: &str| entry.facts.get(name).map_or(String::new(), |fact| fact.text.clone());
        if part("report").is_empty() || reports.iter().any(|report| report.base == entry.name) {
            continue;
        }
        reports.push(Report {
            base: entry.name.clone(),
            number: part("report"),
            date: part("report_date"),
            source: part("source"),
        });
    }
    reports
}

fn sources(ledger: &Ledger) -> Vec<TableSource> {
    let rows = ledger.rows.iter().map(|((table, row), used)| TableSource {
        table: table.clone(),
        row: row.clone(),
        source: used.source.clone(),
        kind: if used.recalled { "recalled".into() } else { "published".into() },
        caution: used.caution.clone(),
        lines: used.lines.clone(),
    });
    rows.collect()
}
