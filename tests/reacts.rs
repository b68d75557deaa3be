//! How ratios react to what was typed: derivatives against differences, intervals against the
//! ratios within them, the factor on all loads against loads so many times as large.

use std::collections::BTreeMap;

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use socle::engine::{self, Limit, Moved, ROOT, Results, Root, Typed};
use socle::formula::Kind;
use socle::job::{Fact, Job, Reaction};
use socle::quantity::{Unit, read_any};
use socle::sheet::{Library, ratio};

use crate::jobs::library;
use crate::support::{self, JOBS, cases, files_of, limit, root as folder};

fn read(name: &str) -> (Job, Library) {
    let library = library();
    let job = read_with(&format!("fixtures/{name}"), &library, |_| {});
    (job, library)
}

/// A job of the project's with something changed in what was read, before its loads are calculated.
fn read_with(path: &str, library: &Library, change: impl Fn(&mut Job)) -> Job {
    let mut job =
        Job::read(path, &files_of(&folder().join(path)), &engine::known_names(library)).expect("a job in order");
    change(&mut job);
    engine::derive_loads(&mut job, library).expect("loads");
    job
}

/// Each example job, worked.
fn each(mut with: impl FnMut(&str, &Root, &Results)) {
    for name in JOBS {
        let (job, library) = read(name);
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let results = engine::work_job(&root, &|_, _| {}).expect("results");
        with(name, &root, &results);
    }
}

/// The ratio of a limit with inputs moved by so much each.
fn moved_ratio(moved: &mut Moved, limit: &Limit, moves: &[f64]) -> Option<f64> {
    let outcome = moved.moved(limit.at(), moves)?;
    let [demand, capacity] = outcome.sides?;
    Some(ratio(demand, capacity, outcome.ok)).filter(|ratio| ratio.is_finite())
}

/// How a derivative stands to the differences on both sides of it.
enum Held {
    /// To the share of it that they differ by.
    Same(f64),
    /// It changes here, and lies between what it is on both sides.
    Between,
    /// Several things change here: it is off by no more than both sides are from each other.
    Meeting,
    /// The differences below and above.
    Wrong(f64, f64),
}

fn held(moved: &mut Moved, limit: &Limit, base: &[f64], input: usize, slope: f64) -> Option<Held> {
    let own = moved_ratio(moved, limit, base)?;
    let size = (moved.inputs[input].value + base[input]).abs().max(0.1);
    let step = 1e-5 * size;
    let at = |moved: &mut Moved, by: f64| {
        let mut moves = base.to_vec();
        moves[input] += by;
        moved_ratio(moved, limit, &moves)
    };
    let sides = [-2.0, -1.0, 1.0, 2.0].map(|by| at(moved, by * step));
    let [Some(a), Some(b), Some(c), Some(d)] = sides else { return None };
    // Of the fourth order: what is left of curvature is less than the last bits of a ratio.
    let centre = (8.0 * (c - b) - (d - a)) / (12.0 * step);
    let noise = 1e-8 * own.max(1e-3) / step;
    let near = |other: f64| (slope - other).abs() <= 1e-5 * slope.abs().max(other.abs()) + 1e-3 * noise;
    let [left, right] = [(own - b) / step, (c - own) / step];
    Some(if near(centre) {
        Held::Same((slope - centre).abs() / slope.abs().max(noise))
    } else if left.min(right) - noise <= slope && slope <= left.max(right) + noise {
        Held::Between
    } else if (slope - left).abs().min((slope - right).abs()) <= (left - right).abs() && (left - right).abs() > noise {
        Held::Meeting
    } else {
        Held::Wrong(left, right)
    })
}

/// Derivatives that were held to differences.
#[derive(Default)]
struct Count {
    same: usize,
    between: usize,
    meeting: usize,
    /// Those that are others where what is rounded stays.
    rounded: usize,
    worst: f64,
    wrong: Vec<String>,
}

impl Count {
    /// Those of every limit of a group by every input, near what was typed.
    fn group(&mut self, moved: &mut Moved, limits: &[Limit], base: &[f64], of: &str) {
        for limit in limits {
            moved.room.rounded_stays = false;
            let Some(unrounded) = moved.slopes(limit.at(), base) else { continue };
            moved.room.rounded_stays = true;
            let Some(slopes) = moved.slopes(limit.at(), base) else { continue };
            self.rounded += slopes.iter().zip(unrounded).filter(|(slope, other)| **slope != *other).count();
            for (input, slope) in slopes.into_iter().enumerate() {
                match held(moved, limit, base, input, slope) {
                    Some(Held::Same(by)) if slope != 0.0 => {
                        self.same += 1;
                        self.worst = self.worst.max(by);
                    }
                    Some(Held::Between) => self.between += 1,
                    Some(Held::Meeting) => self.meeting += 1,
                    Some(Held::Wrong(left, right)) => self.wrong.push(format!(
                        "{of}: {} by {} {}: {slope}, and {left} below, {right} above",
                        limit.rule().say,
                        moved.inputs[input].whence,
                        moved.inputs[input].name
                    )),
                    Some(Held::Same(_)) | None => {}
                }
            }
        }
    }

    fn check(&self) {
        let Count { same, between, meeting, rounded, worst, wrong } = self;
        println!(
            "{same} the same, to {worst:e}; {between} between two slopes, {meeting} beside them; {rounded} rounded"
        );
        assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
        assert!(*same > 5000 && between + meeting < same / 20, "{same} {between} {meeting}");
        assert!(*rounded > 0 && meeting * 200 < *same, "{rounded} {meeting}");
    }
}

#[test]
fn derivatives_of_every_limit_are_those_of_differences() {
    let mut count = Count::default();
    each(|name, root, results| {
        for group in &results.groups {
            let mut moved = Moved::new(root, &results.combinations, group.posts[0], false);
            let base = vec![0.0; moved.inputs.len()];
            count.group(&mut moved, &group.limits, &base, &format!("{name}, group {}", group.no));
        }
    });
    count.check();
}

#[test]
fn derivatives_hold_away_from_what_was_typed() {
    let mut count = Count::default();
    each(|name, root, results| {
        let mut runner = TestRunner::new(cases(6));
        for group in results.groups.iter().take(3) {
            let mut moved = Moved::new(root, &results.combinations, group.posts[0], false);
            let shares = proptest::collection::vec(-0.2..0.2, moved.inputs.len());
            for _ in 0..3 {
                let shares = shares.new_tree(&mut runner).expect("shares").current();
                // Sizes that name a row of a table stay as they are.
                let base = moved.inputs.iter().zip(shares).map(|(input, share)| match input.slack > 0.0 {
                    true => share * input.value,
                    false => 0.0,
                });
                let base: Vec<f64> = base.collect();
                count.group(&mut moved, &group.limits, &base, &format!("{name}, group {}, moved", group.no));
            }
        }
    });
    count.check();
}

/// A number that was typed, in base units, and its unit.
fn number(fact: &Fact) -> Option<(f64, Unit)> {
    match fact.text.parse() {
        Ok(plain) if fact.unit.is_none() => Some((plain, Unit::none())),
        _ => read_any(&fact.text, fact.unit.as_deref(), fact.decimals).map(|it| (it.quantity.value, it.unit)),
    }
}

/// Types it anew.
fn retype(fact: &mut Fact, value: f64, unit: &Unit) {
    fact.text = format!("{} {}", unit.from_base(value), unit.name()).trim_end().into();
}

/// A number of a job, of all posts or of one, so many times as large.
fn other_number(job: &mut Job, post: usize, input: &Typed, times: f64) {
    let is_it = |fact: &&mut Fact| number(fact).is_some_and(|(value, _)| value == input.value);
    let fact = match input.whence.as_str() {
        "job.toml" => job.settings.values_mut().filter_map(|facts| facts.get_mut(&input.name)).find(is_it),
        _ => job.posts[post].facts.get_mut(&input.name),
    };
    let fact = fact.unwrap_or_else(|| panic!("{} {}", input.whence, input.name));
    let (value, unit) = number(fact).unwrap_or_else(|| panic!("{}: {}", input.name, fact.text));
    retype(fact, value * times, &unit);
}

/// Every length and weight that loads are calculated from, of all posts at once, is typed anew within
/// what it may be off.
#[test]
fn an_interval_holds_what_loads_may_be() {
    let library = library();
    let (mut within, mut beyond) = (0, 0);
    for path in ["fixtures/orchard-pergola", "tests/carport"] {
        let job = read_with(path, &library, |_| {});
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let results = engine::work_job(&root, &|_, _| {}).expect("results");
        let mut runner = TestRunner::new(cases(8));
        for _ in 0..8 {
            let shares = proptest::collection::vec(-1.0..1.0, 200).new_tree(&mut runner).expect("shares").current();
            let other = read_with(path, &library, |job| {
                let roof = job.settings.get_mut("roof").into_iter().flat_map(BTreeMap::values_mut);
                // What is cut to a size of a list stays as it is.
                let roof = roof.filter(|fact| !fact.whence.name.starts_with("beam_"));
                let posts = job.posts.iter_mut().flat_map(|post| &mut post.facts);
                let posts = posts.filter(|(name, _)| ["x", "y", "height", "timbers"].contains(&name.as_str()));
                let facts = roof.chain(posts.map(|(_, fact)| fact));
                let mut moved = 0;
                for (fact, share) in facts.zip(&shares) {
                    let Some((value, unit)) = number(fact) else { continue };
                    let slack = fact.slack(&Kind::Quantity(unit.dim));
                    moved += usize::from(slack > 0.0);
                    retype(fact, value + share * slack, &unit);
                }
                assert!(moved > 20, "{path}: {moved}");
            });
            let marks = |job: &Job| job.posts.iter().map(|post| post.mark.clone()).collect::<Vec<_>>();
            assert_eq!(marks(&job), marks(&other));
            let moved_root = Root::new(&other, &library, ROOT, None).expect("the root");
            for group in &results.groups {
                let mut moved = Moved::new(&moved_root, &results.combinations, group.posts[0], false);
                for limit in &group.limits {
                    let Some((interval, ratio)) = limit.interval().zip(moved_ratio(&mut moved, limit, &[])) else {
                        continue;
                    };
                    let room = 0.2 * (interval.high - interval.low) + 1e-9;
                    let inside = interval.low - room <= ratio && ratio <= interval.high + room;
                    assert!(inside || interval.high < 0.8, "{path}, {}: {ratio} in {interval:?}", limit.rule().say);
                    if inside { within += 1 } else { beyond += 1 }
                }
            }
        }
    }
    println!("{within} within, {beyond} beyond");
    assert!(within > 2000 && beyond * 50 < within, "{within} {beyond}");
}

/// Each number of `job.toml` and of the post is typed anew, a little larger and a little smaller;
/// the loads of all posts are calculated again, shared by their lines and combined again.
#[test]
fn a_ratio_reacts_to_what_its_loads_are_calculated_from() {
    const STEP: f64 = 1e-5;
    let library = library();
    let (mut same, mut between, mut wrong) = (0, 0, Vec::new());
    let mut seen: BTreeMap<String, f64> = BTreeMap::new();
    for (path, groups) in [("fixtures/orchard-pergola", 1), ("tests/carport", 1), ("tests/whole/knife-pier", 2)] {
        let job = read_with(path, &library, |_| {});
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let results = engine::work_job(&root, &|_, _| {}).expect("results");
        for group in results.groups.iter().take(groups) {
            let (post, Some(limit)) = (group.posts[0], group.driven()) else { continue };
            let mut moved = Moved::new(&root, &results.combinations, post, false);
            let Some(slopes) = moved.slopes(limit.at(), &[]) else { continue };
            let inputs = moved.inputs.clone();
            for (input, slope) in inputs.iter().zip(slopes) {
                if !["job.toml", "posts.csv"].contains(&input.whence.as_str()) {
                    continue;
                }
                let ratio = |times: f64| {
                    let job = read_with(path, &library, |job| other_number(job, post, input, times));
                    let root = Root::new(&job, &library, ROOT, None).expect("the root");
                    let combinations = engine::combinations(&job, &library).expect("combinations");
                    let mut moved = Moved::new(&root, &combinations, post, false);
                    moved_ratio(&mut moved, limit, &[])
                };
                let own = limit.ratio().expect("a ratio");
                let percent = slope * input.value / own;
                let [Some(below), Some(above)] = [1.0 - STEP, 1.0 + STEP].map(ratio) else { continue };
                let [left, right] = [(own - below) / own / STEP, (above - own) / own / STEP];
                if (percent - (left + right) / 2.0).abs() < 1e-4 {
                    same += 1;
                    let most = seen.entry(input.name.clone()).or_default();
                    *most = most.max(percent.abs());
                } else if left.min(right) - 1e-4 <= percent && percent <= left.max(right) + 1e-4 {
                    between += 1;
                } else {
                    wrong.push(format!(
                        "{path}, {}: {}: {percent}, not {left} and {right}",
                        job.posts[post].mark, input.name
                    ));
                }
            }
        }
    }
    println!("{same} the same, {between} between; {seen:?}");
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    let felt = |name: &str| seen.get(name).is_some_and(|percent| *percent > 0.1);
    assert!(same > 80 && between < 5 && felt("V") && felt("height") && felt("S_S"), "{seen:?}");
}

#[test]
fn an_interval_holds_the_ratio_of_every_value_that_may_be_meant() {
    let (mut within, mut beyond) = (0, 0);
    each(|name, root, results| {
        let mut runner = TestRunner::new(cases(8));
        for group in &results.groups {
            let mut moved = Moved::new(root, &results.combinations, group.posts[0], true);
            let shares = proptest::collection::vec(-1.0..1.0, moved.inputs.len());
            for _ in 0..8 {
                let shares = shares.new_tree(&mut runner).expect("shares").current();
                let moves: Vec<f64> =
                    moved.inputs.iter().zip(shares).map(|(input, share)| share * input.slack).collect();
                for limit in &group.limits {
                    let Some((interval, ratio)) = limit.interval().zip(moved_ratio(&mut moved, limit, &moves)) else {
                        continue;
                    };
                    let own = limit.ratio().expect("a ratio");
                    assert!(interval.low <= own && own <= interval.high, "{name}: {interval:?}, {own}");
                    // Where two of equal weight change places, derivatives do not see all of it.
                    let worked = interval.high >= 0.8;
                    let room = 0.2 * (interval.high - interval.low) + 1e-9;
                    let inside = interval.low - room <= ratio && ratio <= interval.high + room;
                    // Below, a size at which another row of a table is read is not seen.
                    if !worked && !inside {
                        beyond += 1;
                        continue;
                    }
                    assert!(inside, "{name}, {}: {ratio} in {interval:?}", limit.rule().say);
                    within += 1;
                }
            }
        }
    });
    println!("{within} within, {beyond} beyond");
    assert!(within > 5000 && beyond * 50 < within, "{within} {beyond}");
}

#[test]
fn at_the_factor_on_all_loads_the_first_limit_is_reached() {
    let mut reached = 0;
    for name in JOBS {
        let (job, library) = read(name);
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let results = engine::work_job(&root, &|_, _| {}).expect("results");
        for group in &results.groups {
            let Some(first) = engine::reacts(&root, &results.combinations, group).loads.clone() else { continue };
            // What is not met without loads is no limit of theirs.
            let pressed = |factor: f64| -> Vec<(bool, Option<f64>, String)> {
                let (mut scaled, _) = read(name);
                for post in &group.posts {
                    let reactions = scaled.posts[*post].reactions.values_mut();
                    reactions.for_each(|it| *it = Reaction::default().plus(factor, it));
                }
                let root = Root::new(&scaled, &library, ROOT, None).expect("the root");
                let results = engine::work_job(&root, &|_, _| {}).expect("results");
                let group = &results.groups[results.group_of[group.posts[0]]];
                let limits = group.limits.iter().filter(|limit| limit.varies());
                limits.map(|limit| (limit.ok(), limit.ratio(), limit.rule().say.clone())).collect()
            };
            let lost: Vec<String> = pressed(1e-6).into_iter().filter(|(ok, ..)| !ok).map(|(.., say)| say).collect();
            let below = pressed(first.factor * (1.0 - 1e-6));
            let above = pressed(first.factor * (1.0 + 1e-6));
            let below: Vec<_> = below.iter().filter(|(ok, _, say)| !ok && !lost.contains(say)).collect();
            assert!(below.is_empty(), "{name}: {first:?}, {below:?}");
            let turned: Vec<_> = above.iter().filter(|(ok, _, say)| !ok && !lost.contains(say)).collect();
            assert!(turned.iter().any(|(.., say)| *say == first.limit), "{name}: {first:?}, {turned:?}");
            for ratio in turned.iter().filter_map(|(_, ratio, _)| *ratio) {
                assert!((ratio - 1.0).abs() < 1e-5, "{name}: {first:?}, {ratio}");
            }
            reached += 1;
        }
    }
    assert!(reached >= 10, "{reached}");
}

/// What a post reacts to, in percent, by the names of the inputs.
fn percents(json: &serde_json::Value, post: usize) -> BTreeMap<String, f64> {
    let inputs = json["posts"][post]["reacts"].as_array().expect("inputs").iter();
    inputs.map(|it| (it["input"].as_str().expect("a name").into(), it["percent"].as_f64().expect("a number"))).collect()
}

#[test]
fn what_a_ratio_reacts_to_is_the_same_in_any_unit() {
    let inches = support::Job::copy("creek-porch");
    let metric = support::Job::copy("creek-porch");
    metric.edit("posts.csv", "width [in]", "width [mm]").edit("posts.csv", "P_D [kip]", "P_D [lbf]");
    for (mark, width, dead) in
        [("P1", "139.7", "610"), ("P2", "139.7", "1150"), ("P3", "139.7", "1150"), ("P4", "88.9", "480")]
    {
        metric.set("posts.csv", mark, "width", width).set("posts.csv", mark, "P_D", dead);
    }
    let (inches, metric) = (inches.check_json(), metric.check_json());
    for post in 0..4 {
        let (own, other) = (percents(&inches, post), percents(&metric, post));
        assert!(own.len() == 3 && own.keys().eq(other.keys()), "{own:?}\n{other:?}");
        for (name, percent) in own {
            assert!((percent - other[&name]).abs() < 1e-9, "{name}: {percent} and {}", other[&name]);
        }
    }
}

#[test]
fn a_verdict_that_decimals_could_turn_is_close() {
    let job = support::Job::copy("creek-porch");
    job.set("bases.csv", "foot 6", "download", "1.9085");
    let json = job.check_json();
    let found = limit(&json, "P1", "download on the base");
    let ratio = found["ratio"].as_f64().expect("a ratio");
    assert!((0.999..0.9999).contains(&ratio) && found["ok"] == true, "{found}");
    assert_eq!(found["close"], true, "{found}");
    assert!(found["interval"][1].as_f64().expect("a number") > 1.0, "{found}");
    let printed =
        support::stdout(&support::socle(&["check".as_ref(), job.path().as_os_str(), "--post".as_ref(), "P1".as_ref()]));
    assert!(printed.contains("met, close"), "{printed}");
    // Written with more digits, the same loads leave no doubt.
    for (column, value) in [("P_D", "0.610000"), ("P_S", "1.100000"), ("P_W", "-1.050000")] {
        job.set("posts.csv", "P1", column, value);
    }
    let json = job.check_json();
    assert_eq!(limit(&json, "P1", "download on the base")["close"], false);
}

#[test]
fn what_is_typed_is_right_to_its_last_digit() {
    use socle::quantity::{Decimals, Dim, Unit, slack};
    let of = |text: &str, unit: &str, dim: Dim| {
        let unit = Unit::simple(unit).expect("a unit");
        slack(text, dim, Some(&unit), Decimals::Point) / unit.to_base(1.0)
    };
    let line = Dim::of(-1, 1);
    let near = |found: f64, wanted: f64| (found - wanted).abs() < 1e-12;
    for (text, unit, dim, wanted) in [
        ("7 1/2", "in", Dim::LENGTH, 1.0 / 64.0),
        ("7 ½", "in", Dim::LENGTH, 1.0 / 64.0),
        ("8", "ft", Dim::LENGTH, 1.0 / 64.0 / 12.0),
        ("8 ft 6 in", "in", Dim::LENGTH, 1.0 / 64.0),
        ("8 ft 6.5 in", "in", Dim::LENGTH, 0.05),
        ("5.5", "in", Dim::LENGTH, 0.05),
        ("190", "mm", Dim::LENGTH, 0.5),
        ("3", "m", Dim::LENGTH, 0.0005),
        ("0", "in", Dim::LENGTH, 0.0),
        ("15,000", "lbf", Dim::FORCE, 0.5),
        ("1.15", "kip", Dim::FORCE, 0.005),
        ("-1.05", "kip", Dim::FORCE, 0.005),
        ("26", "plf", line, 0.5),
        ("3000", "psi", Dim::of(-2, 1), 0.0),
        ("25.2", "psf", Dim::of(-2, 1), 0.05),
        ("0.45", "%", Dim::NONE, 0.0),
    ] {
        assert!(near(of(text, unit, dim), wanted), "{text} {unit}: {}", of(text, unit, dim));
    }
}

/// The inputs that a ratio reacts to most come first; and what would govern with the size or grade beside one that was chosen is
/// what governs in the job with it under the same loads.
#[test]
fn what_would_govern_with_another_size_is_what_governs_with_it() {
    let mut compared = 0;
    for name in JOBS {
        let (job, library) = read(name);
        let root = Root::new(&job, &library, ROOT, None).expect("the root");
        let results = engine::work_job(&root, &|_, _| {}).expect("results");
        for group in &results.groups {
            let reacts = engine::reacts(&root, &results.combinations, group);
            let percents: Vec<f64> = reacts.inputs.iter().map(|input| input.percent.abs()).collect();
            assert!(percents.len() <= 3 && percents.is_sorted_by(|one, next| one >= next), "{name}: {percents:?}");
            let post = group.posts[0];
            for step in reacts.steps.iter().filter(|step| step.whence.starts_with("posts.csv")) {
                assert!(!step.others.is_empty(), "{name}: {step:?}");
                for other in &step.others {
                    // With the loads that it has.
                    let (mut changed, _) = read(name);
                    changed.posts[post].facts.get_mut(&step.name).expect("a cell").text = other.value.clone();
                    let root = Root::new(&changed, &library, ROOT, None).expect("the root");
                    let results = engine::work_job(&root, &|_, _| {}).expect("results");
                    let group = &results.groups[results.group_of[post]];
                    let found = group.governing().expect("a limit");
                    assert_eq!(found.rule().say, other.limit, "{name}, {}: {step:?}", job.posts[post].mark);
                    assert_eq!(found.ok(), other.ok, "{name}: {step:?}");
                    let near = match (found.ratio(), other.ratio) {
                        (Some(found), Some(told)) => (found - told).abs() <= 1e-9 * told.abs(),
                        (found, told) => found == told,
                    };
                    assert!(near, "{name}: {step:?} {:?}", found.ratio());
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 5, "{compared}");
}
