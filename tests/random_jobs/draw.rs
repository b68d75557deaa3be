//! Random jobs as files in memory. What stands in a cell is drawn from `values.csv`, the same for
//! the same number.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::support::root;

pub type Files = BTreeMap<String, Vec<u8>>;

/// What was drawn, by name; `-` for what is left out.
type Chosen = BTreeMap<String, String>;

/// A line of `values.csv`.
struct Line {
    when: Vec<(String, Vec<String>)>,
    of: String,
    name: String,
    values: Vec<String>,
}

pub struct Values(Vec<Line>);

/// SplitMix64.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ mixed >> 31
    }

    fn of(&mut self, many: usize) -> usize {
        (self.next() % many as u64) as usize
    }

    fn one<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.of(of.len())]
    }

    /// So many times in a hundred.
    fn in_hundred(&mut self, many: usize) -> bool {
        self.of(100) < many
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + self.of((high - low + 1) as usize) as i64
    }
}

/// Units that a metric job is typed in, with a size and the decimals that are typed.
const METRIC: [(&str, &str, f64, usize); 12] = [
    ("in", "mm", 25.4, 0),
    ("ft", "m", 0.3048, 2),
    ("lbf", "kN", 0.004_448_22, 2),
    ("ksi", "MPa", 6.894_757, 0),
    ("psi", "MPa", 0.006_894_757, 1),
    ("psf", "kPa", 0.047_880_26, 2),
    ("mph", "m/s", 0.447_04, 1),
    ("pcf", "kN/m^3", 0.157_087_5, 2),
    ("lbf ft", "kN m", 0.001_355_818, 2),
    ("lbf/ft", "kN/m", 0.014_593_9, 3),
    ("sf", "m^2", 0.092_903_04, 2),
    ("psf/ft", "kPa/m", 0.157_087, 1),
];

/// How many posts stand along x and along y under a roof.
const SHAPES: [(usize, usize); 6] = [(1, 1), (2, 1), (3, 1), (2, 2), (1, 2), (1, 3)];

/// The same where the posts have nothing to do with each other.
const APART: [(usize, usize); 4] = [(1, 1), (1, 1), (2, 1), (1, 2)];

/// A number and its unit as somebody types them.
fn typed(number: f64, unit: &str, metric: bool, draw: &mut Draw) -> String {
    if let Some((_, own, size, decimals)) = METRIC.iter().find(|row| row.0 == unit && metric) {
        return format!("{:.decimals$} {own}", number * size);
    }
    let plain = |number: f64| format!("{}", (number * 1e6).round() / 1e6);
    let sixteenths = (number * 16.0).round();
    let (whole, part) = ((sixteenths / 16.0).trunc(), sixteenths.rem_euclid(16.0) as u32);
    match unit {
        "in" if (sixteenths / 16.0 - number).abs() < 1e-9 && part != 0 && number > 0.0 && draw.in_hundred(60) => {
            let shared = 1 << part.trailing_zeros();
            let fraction = format!("{}/{} in", part / shared, 16 / shared);
            if whole == 0.0 { fraction } else { format!("{whole} {fraction}") }
        }
        "ft" if number > 1.0 && part.is_multiple_of(4) && draw.in_hundred(40) => {
            format!("{} ft {} in", number.trunc(), plain((number.fract() * 12.0 * 16.0).round() / 16.0))
        }
        "" => plain(number),
        unit => format!("{} {unit}", plain(number)),
    }
}

impl Values {
    pub fn read() -> Values {
        let path = root().join("tests/random_jobs/values.csv");
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).expect("the values");
        let line = |row: csv::StringRecord| {
            let condition = |text: &str| {
                let (name, values) = text.trim().split_once('=').expect("a condition");
                (name.to_string(), values.split('/').map(String::from).collect())
            };
            Line {
                when: row[0].split(';').filter(|text| !text.is_empty()).map(condition).collect(),
                of: row[1].into(),
                name: row[2].into(),
                values: row[3].split('|').map(|value| value.trim().to_string()).collect(),
            }
        };
        Values(reader.records().map(|row| line(row.expect("a row"))).collect())
    }

    /// A value of a line.
    fn value(line: &Line, metric: bool, draw: &mut Draw) -> String {
        let value = draw.one(&line.values);
        let Some((low, rest)) = value.split_once("..") else { return value.clone() };
        let (rest, unit) = rest.split_once(' ').unwrap_or((rest, ""));
        let (high, step) = rest.split_once('/').expect("a step");
        let [low, high, step] = [low, high, step].map(|number| number.parse::<f64>().expect("a number"));
        let steps = ((high - low) / step).round() as usize;
        let metric = metric && draw.in_hundred(85);
        typed(low + draw.of(steps + 1) as f64 * step, unit, metric, draw)
    }

    /// What is drawn of a file or a table.
    fn of(&self, of: &str, chosen: &mut Chosen, metric: bool, draw: &mut Draw) -> Vec<(String, String)> {
        let mut found = Vec::new();
        for line in self.0.iter().filter(|line| line.of == of) {
            let holds =
                |(name, values): &(String, Vec<String>)| chosen.get(name).is_some_and(|value| values.contains(value));
            if !line.when.iter().all(holds) {
                continue;
            }
            let value = Values::value(line, metric, draw);
            chosen.insert(line.name.trim_start_matches('?').into(), value.clone());
            if value != "-" && !line.name.starts_with('?') {
                found.push((line.name.clone(), value));
            }
        }
        found
    }

    pub fn job(&self, seed: u64) -> Files {
        let draw = &mut Draw(seed);
        let metric = draw.in_hundred(35);
        let mut chosen = Chosen::new();
        let mut toml = format!(
            "[job]\nname = \"Drawn {seed}\"\nplace = \"nowhere\"\ndate = \"2026-01-05\"\nprepared_by = \"nobody\"\nunits = \"{}\"\n\n[code]\nbasis = \"IBC 2021\"\n",
            if metric { "metric" } else { "imperial" }
        );
        self.of("job", &mut chosen, metric, draw);
        let shapes = if chosen["loads"] == "roof" { &SHAPES[..] } else { &APART };
        let (shape, bays) = (*draw.one(shapes), [0; 2].map(|_| draw.between(24, 60) as f64 / 4.0));
        let mut tables = Vec::new();
        for table in ["site", "bracing", "seismic", "roof", "wood", "shop"] {
            if table != "roof" || chosen["loads"] == "roof" {
                tables.push((table, self.of(table, &mut chosen, metric, draw)));
            }
        }
        // A ridge stands over the posts.
        let across =
            if chosen.get("ridge").is_some_and(|ridge| ridge == "x") { (shape.1, bays[1]) } else { (shape.0, bays[0]) };
        let ridge_at = ((across.0 - 1) as f64 * across.1 * draw.between(2, 14) as f64).round() / 16.0;
        for (table, values) in &mut tables {
            if *table == "roof" {
                values.push(("ridge_at".into(), typed(ridge_at, "ft", metric, draw)));
            }
            write!(toml, "\n[{table}]\n").expect("memory");
            values.iter().for_each(|(name, value)| writeln!(toml, "{name} = {value:?}").expect("memory"));
        }
        let mut files = Files::new();
        let mut rows: BTreeMap<&str, Vec<Chosen>> = BTreeMap::new();
        let concrete = chosen["ground"] == "concrete";
        for (file, many) in [("bases", 2), ("foundations", 2), ("anchors", 2)] {
            if file == "anchors" && !concrete {
                continue;
            }
            let mut grid = Grid::default();
            for no in 0..=draw.of(many) {
                let mut own = chosen.clone();
                let cells = self.of(file, &mut own, metric, draw);
                let name = format!("{file} {no}");
                grid.row([("name", name.as_str()), ("source", "demo")], &cells);
                own.insert("name".into(), name);
                rows.entry(file).or_default().push(own);
            }
            files.insert(format!("{file}.csv"), grid.text());
        }
        let (posts, marks) = self.posts(&chosen, &rows, (shape, bays), metric, draw);
        files.insert("posts.csv".into(), posts.text());
        let mut none = vec!["L", "Lr", "S", "R", "W", "E"];
        if chosen["loads"] == "roof" {
            none = vec!["L", "R"];
            toml.push_str("\n[loads]\nwind = \"as given\"\n");
        } else {
            let reactions = reactions(&marks, &mut none, metric, draw);
            files.insert("reactions.csv".into(), reactions.text());
            let wind = draw.one(&["as given", "both signs"]);
            write!(toml, "\n[loads]\nwind = \"{wind}\"\nsigns = \"P is down\"\n").expect("memory");
        }
        toml.push_str("\n[loads.none]\n");
        none.iter().for_each(|case| writeln!(toml, "{case} = \"there is none\"").expect("memory"));
        files.insert("job.toml".into(), toml.into_bytes());
        files
    }

    /// Posts on a grid; some say for themselves what the job says of all.
    fn posts(
        &self,
        chosen: &Chosen,
        rows: &BTreeMap<&str, Vec<Chosen>>,
        ((along, across), bays): ((usize, usize), [f64; 2]),
        metric: bool,
        draw: &mut Draw,
    ) -> (Grid, Vec<String>) {
        // One stands out of line.
        let apart = chosen["loads"] == "reactions" && draw.in_hundred(10);
        // What each post says for itself.
        let own: Vec<&Line> = self.0.iter().filter(|line| self.by_post(line, chosen)).collect();
        let many = if draw.in_hundred(25) { 1 + draw.of(3) } else { 0 };
        let own: Vec<&Line> = (0..many).map(|_| own[draw.of(own.len())]).collect();
        let mut grid = Grid::default();
        let mut marks = Vec::new();
        for no in 0..along * across {
            let base = draw.one(&rows["bases"]).clone();
            let mut of_post = base.clone();
            let mut cells = self.of("posts", &mut of_post, metric, draw);
            if draw.in_hundred(10) {
                cells.retain(|(name, _)| !["width", "depth"].contains(&name.as_str()));
                cells.push(("nominal".into(), format!("{0}x{0}", base["size"])));
            }
            for line in &own {
                cells.retain(|(name, _)| *name != line.name);
                cells.push((line.name.clone(), Values::value(line, metric, draw).replace('-', "")));
            }
            let at = [(no % along) as f64 * bays[0], (no / along) as f64 * bays[1]];
            let shift = if apart && no == 0 { 1.5 } else { 0.0 };
            let [x, y] = [at[0] + shift, at[1]].map(|feet| format!("{feet} ft"));
            let mark = format!("P{no}");
            let mut named =
                vec![("mark", mark.as_str()), ("x", &x), ("y", &y), ("base", &base["name"]), ("source", "demo")];
            named.push(("foundation", &draw.one(&rows["foundations"])["name"]));
            if let Some(anchors) = rows.get("anchors") {
                named.push(("anchor", &draw.one(anchors)["name"]));
            }
            grid.row(named, &cells);
            marks.push(mark);
        }
        (grid, marks)
    }

    /// Whether a post may say for itself what stands in this line.
    fn by_post(&self, line: &Line, chosen: &Chosen) -> bool {
        let table = ["bracing", "roof", "shop", "site", "wood"].contains(&line.of.as_str());
        let decides = |name: &str| self.0.iter().any(|line| line.when.iter().any(|(known, _)| known == name));
        table && !line.name.starts_with('?') && !decides(&line.name) && chosen.contains_key(&line.name)
    }
}

/// Loads on each post in some kinds of cases; those that there are not are left in `none`.
fn reactions(marks: &[String], none: &mut Vec<&str>, metric: bool, draw: &mut Draw) -> Grid {
    let mut cases = vec!["D"];
    for (kind, in_hundred, named) in [
        ("L", 30, &[&["L"][..]][..]),
        ("Lr", 60, &[&["Lr"]]),
        ("S", 60, &[&["S"]]),
        ("R", 10, &[&["R"]]),
        ("W", 80, &[&["W"], &["W1", "W2"]]),
        ("E", 55, &[&["E_x", "E_y"]]),
    ] {
        if draw.in_hundred(in_hundred) {
            cases.extend(draw.one(named).iter().copied());
            none.retain(|known| *known != kind);
        }
    }
    let mut grid = Grid::default();
    let size = draw.between(2, 40);
    for mark in marks {
        for case in &cases {
            let (down, push) = match &case[..1] {
                "W" => (draw.between(-100 * size, 40 * size), draw.between(-20 * size, 20 * size)),
                "E" => (draw.between(-25 * size, 25 * size), draw.between(-20 * size, 20 * size)),
                _ => (draw.between(20 * size, 200 * size), draw.between(-5 * size, 5 * size)),
            };
            let pushes = match case.as_bytes().last() {
                Some(b'x' | b'1') => [push, 0],
                Some(b'y' | b'2') => [0, push],
                _ => [push, draw.between(-5 * size, 5 * size)],
            };
            let wind = if case.starts_with('W') { draw.between(0, 30) } else { 0 };
            let winds = if pushes[0] == 0 { [0, wind] } else { [wind, 0] };
            let mut cell =
                |name: &str, number: i64, unit: &str| (name.to_string(), typed(number as f64, unit, metric, draw));
            let cells = [
                cell("P", down, "lbf"),
                cell("H_x", pushes[0], "lbf"),
                cell("H_y", pushes[1], "lbf"),
                cell("w_x", winds[0], "lbf/ft"),
                cell("w_y", winds[1], "lbf/ft"),
            ];
            grid.row([("mark", mark.as_str()), ("case", case)], &cells);
        }
    }
    grid
}

/// Rows whose cells are known by their columns.
#[derive(Default)]
struct Grid {
    columns: Vec<String>,
    rows: Vec<BTreeMap<String, String>>,
}

impl Grid {
    fn row<'a>(&mut self, named: impl IntoIterator<Item = (&'a str, &'a str)>, cells: &[(String, String)]) {
        let named = named.into_iter().map(|(name, value)| (name.to_string(), value.to_string()));
        let row: BTreeMap<String, String> = named.chain(cells.iter().cloned()).collect();
        for name in row.keys() {
            if !self.columns.contains(name) {
                self.columns.push(name.clone());
            }
        }
        self.rows.push(row);
    }

    fn text(&self) -> Vec<u8> {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(&self.columns).expect("memory");
        for row in &self.rows {
            let cells = self.columns.iter().map(|name| row.get(name).map_or("", String::as_str));
            writer.write_record(cells).expect("memory");
        }
        writer.into_inner().expect("memory")
    }
}
