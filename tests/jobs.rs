//! The command line on the three example jobs.

use std::collections::BTreeMap;
use std::path::Path;

use socle::package::{Figures, Line, Package, Pages, Section, Worked};
use socle::revision::Edition;
use socle::sheet::Library;
use socle::templates::Templates;

use socle::engine::{LOADS, PostGrid, ROOT, Root};

use crate::support::{JOBS, Job, limit, one_line, root, socle, stderr, stdout};

pub fn library() -> Library {
    Templates::built_in().library().expect("the built-in sheets are in order")
}

/// The package of an example job as its templates read it.
pub fn package_of(job: &str) -> (Package, Pages) {
    package_in(&root().join("fixtures").join(job))
}

/// The package of the job in a folder, with its own sheets and tables.
pub fn package_in(folder: &Path) -> (Package, Pages) {
    let (package, pages, _) = drafted(folder, &[]);
    (package, pages)
}

/// Loads, then what is worked.
pub fn chapters(pages: &Pages) -> impl Iterator<Item = &Worked> {
    pages.loads.iter().chain(&pages.worked)
}

pub fn sections(pages: &Pages) -> impl Iterator<Item = &Section> {
    chapters(pages).flat_map(|chapter| &chapter.sections)
}

pub fn lines(pages: &Pages) -> impl Iterator<Item = &Line> {
    sections(pages).flat_map(|section| &section.lines)
}

/// The same with its posts in the order of some marks, and what of it is compared
/// with another state of the job.
pub fn drafted(folder: &Path, order: &[String]) -> (Package, Pages, Edition) {
    let templates = Templates::of(Some(folder)).ok().expect("the templates are read");
    let library = templates.library().expect("the sheets are in order");
    let known = socle::engine::known_names(&library);
    let files = socle::folder::Folder::from(folder).read_all("").ok().expect("the job");
    let files: BTreeMap<String, Vec<u8>> =
        files.into_iter().filter(|(path, _)| !path.starts_with("templates/")).collect();
    let mut job = socle::job::Job::read(&folder.display().to_string(), &files, &known).expect("the job is in order");
    job.order(order);
    let library = library.printed_in(job.units);
    let groups = socle::engine::derive_loads(&mut job, &library).expect("the loads work out");
    let root = Root::new(&job, &library, ROOT, None).expect("the root");
    let loads =
        Root::new(&job, &library, LOADS, Some(PostGrid::new(&job.posts).around())).expect("the sheet for loads");
    let loads = if groups.groups.is_empty() { None } else { Some((&loads, &groups)) };
    let results = socle::engine::work_job(&root, &|_, _| {}).expect("the job works out");
    let frames = socle::engine::frames(&job, &library, &groups, &results, false).expect("the frames work out");
    let worked = socle::engine::Worked { root: &root, results: &results, loads, frames };
    let verdict = socle::verdict::Verdict::new(&job, &library, &results, &groups.groups);
    let own = templates.own().map(|(path, bytes)| (path.to_string(), String::from_utf8_lossy(bytes).into_owned()));
    let edition = Edition::new(&job, &results, own.collect(), "socle test");
    let (package, pages) =
        socle::package::build(&worked, &verdict, "socle test", "sha256:test", false, &Figures::default());
    (package, pages, edition)
}

#[test]
fn packages_are_written_and_the_same_each_time() {
    let folder = tempfile::tempdir().expect("a folder");
    for job in JOBS {
        let write = |name: &str| {
            let path = folder.path().join(format!("{job}-{name}"));
            let output = socle(&["package", &format!("fixtures/{job}"), "-o", &path.display().to_string()]);
            assert!(matches!(output.status.code(), Some(0 | 1)), "{}", stderr(&output));
            std::fs::read(path).expect("the package")
        };
        let (first, second) = (write("first.pdf"), write("second.pdf"));
        assert!(first == second, "{job}: two runs give different bytes");
        let text = lopdf::Document::load_mem(&first).expect("a PDF");
        assert!(text.get_pages().len() > 10, "{job}");
    }
}

#[test]
fn one_job_fails_and_says_why() {
    let output = socle(&["check", "fixtures/cart-barn"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(stdout(&output).contains("NOT MET"), "{}", stdout(&output));
    assert!(one_line(&stdout(&output)).contains("install as many anchors as the values were published for"));
    for job in ["orchard-pergola", "creek-porch"] {
        assert_eq!(socle(&["check", &format!("fixtures/{job}")]).status.code(), Some(0), "{job}");
    }
}

#[test]
fn each_job_has_a_post_near_a_limit() {
    for job in JOBS {
        let json = Job::copy(job).check_json();
        let near = json["posts"]
            .as_array()
            .expect("posts")
            .iter()
            .flat_map(|post| post["limits"].as_array().expect("limits"))
            .any(|limit| {
                limit["combination"] != "" && limit["ratio"].as_f64().is_some_and(|ratio| (0.85..=1.0).contains(&ratio))
            });
        assert!(near, "{job}");
    }
}

#[test]
fn json_has_the_stable_shape() {
    let json = Job::copy("orchard-pergola").check_json();
    assert_eq!(json["job"], "Orchard pergola");
    assert!(json["digest"].as_str().expect("a digest").starts_with("sha256:"));
    let pins = limit(&json, "A1", "uplift and shear on the pins");
    for key in ["sheet", "limit", "cite", "demand", "capacity", "unit", "ratio", "combination", "ok"] {
        assert!(!pins[key].is_null(), "{key}");
    }
    let values = &json["posts"][0]["values"];
    assert_eq!(values["pin-yield.Z"]["unit"], "lbf");
    assert!(values["pin-yield.Z"]["value"].as_f64().expect("a number") > 1000.0);
}

#[test]
fn equal_posts_share_a_group_and_csv_has_every_limit() {
    let job = Job::copy("cart-barn");
    // The braces push the post at the other end the other way; here they push it alike.
    let reactions = job.read("reactions.csv");
    let alike: String =
        reactions.lines().filter(|line| !line.starts_with("A4,")).map(|line| format!("{line}\n")).collect();
    let first = reactions.lines().filter(|line| line.starts_with("A1,")).map(|line| format!("A4{}\n", &line[2..]));
    job.write("reactions.csv", alike + &first.collect::<String>());
    let json = job.check_json();
    let group = |mark: &str| {
        json["posts"].as_array().expect("posts").iter().find(|post| post["mark"] == mark).expect("the post")["group"]
            .clone()
    };
    assert_eq!(group("A1"), group("A4"));
    assert_ne!(group("A1"), group("A2"));
    // However its base is named.
    job.set("posts.csv", "A4", "base", "Side-Plate 8");
    let json = job.check_json();
    assert_eq!(json["posts"][0]["group"], json["posts"][3]["group"]);
    let limits: usize = json["posts"]
        .as_array()
        .expect("posts")
        .iter()
        .map(|post| post["limits"].as_array().expect("limits").len())
        .sum();
    let csv = stdout(&socle(&["check", "fixtures/cart-barn", "--csv"]));
    assert_eq!(csv.lines().count(), limits + 1);
}

#[test]
fn a_cell_moves_the_right_number() {
    let before = Job::copy("creek-porch").check_json();
    let job = Job::copy("creek-porch");
    job.set("posts.csv", "P2", "P_W", "-2.4");
    let after = job.check_json();
    let ratio = |json: &serde_json::Value, mark: &str| {
        limit(json, mark, "uplift on the base")["ratio"].as_f64().expect("a ratio")
    };
    assert!(ratio(&after, "P2") > ratio(&before, "P2"));
    assert_eq!(ratio(&after, "P1"), ratio(&before, "P1"));
}

#[test]
fn a_jobs_own_table_goes_first_and_its_own_sheet_takes_the_place() {
    let job = Job::copy("orchard-pergola");
    let header = std::fs::read_to_string(root().join("templates/tables/posts-and-timbers.csv")).expect("the table");
    let header = header.lines().find(|line| line.starts_with("species")).expect("a header").to_string();
    job.write(
        "templates/tables/posts-and-timbers.csv",
        format!("# title: values of this job\n{header}\nDouglas Fir-Larch,posts,No.1,1200,825,170,625,500,1600000,580000,mill,grading certificate 7,published,\n"),
    );
    let json = job.check_json();
    assert_eq!(json["posts"][0]["values"]["timber-values.F_c"]["value"], 500.0);
    job.write(
        "templates/sheets/base/finish.sheet",
        "sheet finish\ntitle x\nneeds\n  standoff length from bases \"x\"\nlet b = 2 * standoff\n",
    );
    let json = job.check_json();
    assert!(json["posts"][0]["limits"].as_array().expect("limits").iter().all(|limit| limit["sheet"] != "finish"));
}

#[test]
fn work_prints_steps_json_and_rows() {
    let args = ["work", "dowel-bearing", "G=0.5", "D=1/2 in", "theta=90 deg"];
    let text = stdout(&socle(&args));
    assert!(text.contains("F_e_perp = ") && text.contains("3,150 psi"), "{text}");
    let json: serde_json::Value =
        serde_json::from_slice(&socle(&[&args[..], &["--json"]].concat()).stdout).expect("JSON");
    assert_eq!(json["values"]["F_e_par"]["value"], 5600.0);
    let folder = tempfile::tempdir().expect("a folder");
    let rows = folder.path().join("rows.csv");
    std::fs::write(&rows, "G,D [in],theta,what\n0.5,0.5,0 deg,a\n0.5,12.7 mm,90 deg,b\n").expect("a file");
    let output = socle(&["work", "dowel-bearing", "--rows", &rows.display().to_string()]);
    // A column of one's own is kept, and said once: it may be a slip.
    let note = "note: the sheet `dowel-bearing` has no input `what`: the column is not read";
    assert_eq!(stderr(&output).matches("note:").count(), 1, "{}", stderr(&output));
    assert!(stderr(&output).contains(note), "{}", stderr(&output));
    let text = stdout(&output);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "G,D [in],theta,what,F_e_par [psi],F_e_perp [psi],F_e_theta [psi],ok");
    assert!(lines[1].starts_with("0.5,0.5,0 deg,a,5600,3150,"), "{text}");
    assert!(lines[2].starts_with("0.5,12.7 mm,90 deg,b,5600,3150,"), "{text}");
}

/// The row as a whole, and each limit by its words; a limit that was not asked is empty.
#[test]
fn rows_carry_verdicts() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("rows.csv");
    let rows = |sheet: &str, text: &str| {
        std::fs::write(&path, text).expect("a file");
        socle(&["work", sheet, "--rows", &path.display().to_string()])
    };
    let met = rows("anchor-interaction", "r_N,r_V\n0.5,0.6\n0.75,0.1\n");
    assert_eq!(met.status.code(), Some(0), "{}", stderr(&met));
    let not = rows("anchor-interaction", "r_N,r_V\n0.5,0.625\n0.1,1.25\n");
    assert_eq!(not.status.code(), Some(1), "{}", stderr(&not));
    let cells = |text: &str| -> Vec<Vec<String>> {
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        reader.records().map(|row| row.expect("a row").iter().map(String::from).collect()).collect()
    };
    let limits = ["tension and shear together", "tension and shear, each alone"];
    let mut header: Vec<String> = ["r_N", "r_V", "r", "ok"].map(String::from).into();
    header.extend(limits.iter().flat_map(|limit| [format!("ratio: {limit}"), format!("verdict: {limit}")]));
    let found = cells(&stdout(&not));
    assert_eq!(found[0], header);
    assert_eq!(found[1], ["0.5", "0.625", "1.125", "yes", "0.9375", "met", "", ""]);
    assert_eq!(found[2], ["0.1", "1.25", "1.25", "no", "", "", "1.25", "not met"]);
    // A limit of a sheet that is used stands behind the name of the use.
    let used = rows("anchor-steel", "A_se,f_ya,f_uta,gap,l_gap\n0.226 in^2,36 ksi,58 ksi,open,1 in\n");
    let heading = "verdict: anchor-standoff: slenderness of the free-standing rods";
    assert!(cells(&stdout(&used))[0].iter().any(|name| name == heading), "{}", stdout(&used));
    // What was worked before can not stand beside what is worked now.
    let again = rows("anchor-interaction", &stdout(&met));
    assert_eq!(again.status.code(), Some(2));
    assert!(again.stdout.is_empty());
    assert!(stderr(&again).contains("`ok` is a column that `--rows` adds"), "{}", stderr(&again));
}

#[test]
fn spreadsheet_exports_are_read_as_they_come() {
    let before = Job::copy("orchard-pergola").check_json();
    let job = Job::copy("orchard-pergola");
    let text = job.read("posts.csv").replace(',', ";").replace('\n', "\r\n");
    let mut bytes = b"\xef\xbb\xbf".to_vec();
    bytes.extend(text.as_bytes());
    bytes.extend(b";;;;\r\n;;;;\r\n");
    job.write("posts.csv", bytes);
    let after = job.check_json();
    assert_eq!(before["posts"], after["posts"]);
    // Windows-1252: 0xBD is one half.
    let text = Job::copy("orchard-pergola").read("posts.csv").replace("7 1/2", "7\u{bd}");
    let bytes: Vec<u8> = text.chars().map(|c| c as u32 as u8).collect();
    job.write("posts.csv", bytes);
    let after = job.check_json();
    assert_eq!(before["posts"][0]["limits"], after["posts"][0]["limits"]);
}

/// The nominal reactions of a post, `[P, H_x, H_y]` by case, as the package prints them.
fn nominal(package: &Package, mark: &str) -> BTreeMap<String, [f64; 3]> {
    let mut found: BTreeMap<String, [f64; 3]> = BTreeMap::new();
    for table in &package.reactions {
        let Some(at) = table.columns.iter().position(|marks| marks.split(", ").any(|known| known == mark)) else {
            continue;
        };
        for row in &table.rows {
            let Some(part) = ["P", "H_x", "H_y"].iter().position(|what| *what == row.what) else { continue };
            let number = row.cells[at].replace(',', "").replace('−', "-").parse().expect("a number");
            found.entry(row.case.clone()).or_default()[part] = number;
        }
    }
    assert!(!found.is_empty(), "{mark} has no column");
    found
}

/// By hand: the posts of the pergola carry 35 ft by 15 ft of slats at 6 psf, two
/// lines of 32 ft of 5 1/2 by 9 1/2 in beam and three of 12 ft of 5 1/2 by 7 1/2 in,
/// 500 lbf of braces, and are 36 1/2 ft of 7 1/2 in square and 18 ft of 5 1/2 in, all at
/// 38 pcf; half of 25.2 psf of snow (0.7 x 1.0 x 1.2 x 1.0 x 30). Braces move some of
/// it from the posts at the ends of a line to the one in the middle.
#[test]
fn loads_of_all_posts_by_hand() {
    let (package, _) = package_of("orchard-pergola");
    let posts: Vec<_> = ["A1", "A2", "A3", "B1", "B2", "B3"].map(|mark| nominal(&package, mark)).into();
    let beams = 38.0 * (64.0 * 5.5 * 9.5 + 36.0 * 5.5 * 7.5) / 144.0;
    let timber = 38.0 * (36.5 * 7.5 * 7.5 + 18.0 * 5.5 * 5.5) / 144.0;
    let dead = 35.0 * 15.0 * 6.0 + beams + 500.0 + timber;
    for (case, wanted) in [("D", dead), ("S", 35.0 * 15.0 * 0.5 * 25.2)] {
        let sum: f64 = posts.iter().map(|post| post[case][0]).sum();
        // Each is printed to a pound.
        assert!((sum - wanted).abs() <= 3.0, "{case}: {sum} {wanted}");
    }
    // Of 16 ft by 7 ft 6 in against 9 ft 6 in by 7 ft 6 in.
    assert!(posts[1]["S"][0] > 1.1 * 16.0 / 9.5 * posts[0]["S"][0]);
}

/// What the wind presses or lifts is on the posts: 12 psf on 35 ft by 15 ft, up
/// in half of the cases and down in the other. Its couples cancel but for those
/// of post B2, which is half a foot taller than the other post of its bent.
#[test]
fn loads_of_all_posts_are_the_loads_on_the_roof() {
    let (package, _) = package_of("orchard-pergola");
    let posts: Vec<_> = ["A1", "A2", "A3", "B1", "B2", "B3"].map(|mark| nominal(&package, mark)).into();
    let sum = |case: &str, part: usize| posts.iter().map(|post| post[case][part]).sum::<f64>();
    for case in 1..=8 {
        let vertical = sum(&format!("W{case}"), 0);
        let wanted = if case % 2 == 1 { -12.0 } else { 12.0 } * 35.0 * 15.0;
        assert!((vertical - wanted).abs() <= 0.015 * wanted.abs(), "W{case}: {vertical} {wanted}");
    }
    // Wind toward plus and toward minus push as hard; along and across do not mix.
    assert!((sum("W1", 2) + sum("W3", 2)).abs() <= 4.0 && sum("W1", 2) > 1000.0 && sum("W1", 1) == 0.0);
    assert!((sum("W5", 1) + sum("W7", 1)).abs() <= 4.0 && sum("W5", 1) > 500.0 && sum("W5", 2) == 0.0);
}

/// A pavilion from the pergola, 35 ft by 15 ft, wind across: what all posts get is the pressure on both halves by the
/// coefficients of ASCE 7-16 Figs. 27.3-4 to 27.3-6 for 22.5 degrees and clear flow, windward and leeward, cases A and B.
/// Couples cancel but for those of post B2, which is half a foot taller than the other post of its bent.
#[test]
fn open_roofs_press_and_lift_as_the_figures_say() {
    let figures: [(&str, &[[f64; 2]]); 3] = [
        ("pitched", &[[1.1, 0.1], [-0.1, -0.8]]),
        ("troughed", &[[-1.1, -0.1], [-0.1, 0.8]]),
        ("monoslope", &[[-1.5, -1.6], [-2.4, -0.3], [1.7, 1.8], [2.2, 0.7]]),
    ];
    // Exposure C, K_z of the lowest 15 ft, K_d of 0.85, 115 mph, G of 0.85.
    let pressure = 0.00256 * 2.01 * (15.0f64 / 900.0).powf(2.0 / 9.5) * 0.85 * 115.0f64.powi(2) * 0.85;
    for (roof, coefficients) in figures {
        let job = Job::copy("orchard-pergola");
        // The middle of a monoslope is known; a ridge or a valley stands where the user says.
        let ridge = if roof == "monoslope" { "high = \"plus\"\n" } else { "ridge_at = \"6 ft\"\n" };
        let layers = "roofing = \"3 psf\"\nsheathing = \"3 psf\"\ninsulation = \"0 psf\"\nceiling = \"0 psf\"\nfascia = \"7 1/2 in\"\nend_solid = \"30 sf\"\n";
        job.edit("job.toml", "roof = \"slats\"", &format!("roof = \"{roof}\"\n{ridge}{layers}flow = \"clear\""));
        job.edit("job.toml", "slope = \"0 deg\"", "slope = \"22.5 deg\"");
        job.edit("job.toml", "mean_height = \"9 ft 6 in\"", "mean_height = \"11 ft\"");
        let (package, _) = package_in(&job.path());
        let posts: Vec<_> = ["A1", "A2", "A3", "B1", "B2", "B3"].map(|mark| nominal(&package, mark)).into();
        let winds = posts[0].keys().filter(|case| case.starts_with('W'));
        let totals: Vec<f64> = winds.map(|case| posts.iter().map(|post| post[case][0]).sum()).collect();
        for [windward, leeward] in coefficients {
            let wanted = pressure * (windward + leeward) * 35.0 * 7.5;
            let found = totals.iter().any(|total| (total - wanted).abs() <= 0.03 * wanted.abs());
            assert!(found, "{roof}, {windward} and {leeward}: {wanted:.0} lbf is not among {totals:.0?}");
        }
    }
}

/// Pieces by hand: four posts on `knife 8` with two pins each, two on `knife 6`
/// with one; four anchors a post; piers 53 in of 16 in round on 30 by 30 by 10 in,
/// with 8 percent of the concrete more; ties of three in the top 5 in and eight below.
#[test]
fn schedules_count_the_pieces() {
    let files = crate::shop::schedules(&root().join("fixtures/orchard-pergola"));
    let row = |file: &str, start: &str| {
        let text = files.get(&format!("{file}-to-order.csv")).unwrap_or_else(|| panic!("{file} in {:?}", files.keys()));
        text.lines().find(|line| line.starts_with(start)).unwrap_or_else(|| panic!("{start} in {text}")).to_string()
    };
    assert!(row("fasteners", "pin,\"1/2 in by 6 3/4 in, A36,").ends_with(",8"));
    assert!(row("fasteners", "pin,\"7/16 in by 4 3/4 in, A36,").ends_with(",\"B1, B3\",2"));
    assert!(
        row("timber", "post,\"7 1/2 in by 7 1/2 in by 10 ft 0 in, Douglas Fir-Larch, No.1, preservative-treated\"")
            .ends_with(",B2,1")
    );
    assert!(row("steel", "base,knife 6").ends_with(",\"B1, B3\",2"));
    assert!(
        row("steel", "pipe,\"knife 8, 2 3/8 in by 0.154 in by 7/8 in, A53 Gr B, hot-dip galvanized\"").ends_with(",4")
    );
    assert!(row("anchors", "rod,\"1/2 in by 10 1/4 in, F1554 Grade 36,").ends_with(",24"));
    assert!(row("anchors", "nut,").ends_with(",24") && row("anchors", "nut below,\"1/2 in, hex").ends_with(",24"));
    assert!(row("anchors", "washer,").ends_with(",24"));
    assert!(row("concrete", "\"vertical bar, hooked at one end\",\"No. 4, 4 ft 10 in by 8 in\"").ends_with(",36"));
    assert!(row("concrete", "\"tie, its outside at most\",\"No. 3, round, 10 in\"").ends_with(",78"));
    let concrete = 1.08 * 6.0 * (std::f64::consts::PI / 4.0 * 16.0f64.powi(2) * 53.0 + 30.0 * 30.0 * 10.0) / 1728.0;
    let ordered = row("concrete", "\"concrete, with the allowance for waste\",4500 psi");
    assert!(ordered.contains(&format!("{concrete:.1} ft³")), "{concrete} {ordered}");
}

/// A base that is cast in and rated for moment needs nothing at the top: the
/// post stands on it as a cantilever.
#[test]
fn a_base_rated_for_moment_holds_a_cantilever() {
    let job = Job::copy("creek-porch");
    job.edit("bases.csv", "name,kind,", "name,kind,moment_rated,moment_x [lbf ft],moment_y [lbf ft],");
    job.edit("bases.csv", "foot 6,rated,", "foot 6,rated,yes,4000,4000,");
    job.edit("bases.csv", "foot 4,rated,", "foot 4,rated,no,,,");
    job.edit("job.toml", "brace_x = \"other\"", "brace_x = \"none\"");
    let json = job.check_json();
    let both = limit(&json, "P2", "uplift and moments together");
    // 0.6 x 0.31 kip on 8 ft, with 14 lbf/ft on the post, and the uplift of 0.6D + 0.6W over 1.15 kip.
    let uplift = 0.6 * (1.98 - 1.15);
    let wanted = uplift / 1.15 + 0.6 * (310.0 * 8.0 + 14.0 * 8.0 * 4.0) / 4000.0;
    assert!((both["ratio"].as_f64().expect("a ratio") - wanted).abs() < 1e-3, "{both} {wanted}");
    // Twice as slender along x as hinged at both ends, by K of 2.1.
    assert_eq!(
        limit(&json, "P2", "slenderness of the post")["demand"].as_f64().map(f64::round),
        Some((2.1 * 96.0 / 5.5f64).round())
    );
    // The hinge that has nothing at its top is a failed limit.
    assert_eq!(limit(&json, "P4", "restraint of the top along x")["ok"], false);
}

/// The drawings of a package hold the numbers of its calculation.
#[test]
fn drawings_are_made_from_the_calculation() {
    let (package, pages) = package_of("orchard-pergola");
    let plain = package.shop.iter().chain(&package.field).flat_map(|sheet| sheet.drawings());
    let worked = lines(&pages).filter_map(|line| match line {
        Line::Figure { drawing, .. } => Some(drawing),
        _ => None,
    });
    let alts: Vec<String> = plain.chain(worked).map(|it| it.alt.clone()).collect();
    let has = |words: &[&str]| alts.iter().any(|alt| words.iter().all(|word| alt.contains(word)));
    // Cells of bases.csv, posts.csv and foundations.csv.
    assert!(has(&["Group of 2 pins 1/2″", "end distance 4″", "spacing 2 1/2″"]), "{alts:#?}");
    assert!(has(&["a round pier 16″ across", "2 by 2 anchors 1/2″", "4″ apart along x"]), "{alts:#?}");
    assert!(
        has(&[
            "Section of the foundation",
            "a pad 2′-6″ by 2′-6″ and 10″ thick",
            "6″ above the ground and 4′-9″ in it"
        ]),
        "{alts:#?}"
    );
}
