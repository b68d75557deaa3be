//! Published, recalled and independent numbers: each file of
//! `tests/check-values` is a test, `cargo test column__worked_examples` runs one.
//! A file whose name begins with a sheet's name is worked row by row, one that
//! begins with `tables` is looked up; both are compared within each row's own
//! tolerance.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::LazyLock;

use socle::alone::Alone;
use socle::formula::Value;
use socle::grid::{Column, Grid};
use socle::job::Facts;
use socle::quantity::Unit;
use socle::sheet::{Library, Step, Worked};
use socle::source::Source;

use crate::support::root;

static LIBRARY: LazyLock<Library> = LazyLock::new(crate::jobs::library);

/// A test for each file, and their names: `column__worked_examples` is
/// `column--worked-examples.csv`, hyphens and all.
macro_rules! files {
    ($($name:ident,)*) => {
        const FILES: &[&str] = &[$(stringify!($name)),*];
        $(#[test] #[allow(non_snake_case)] fn $name() { hold(stringify!($name)) })*
    };
}

files! {
    anchor_blowout__limits,
    anchor_blowout__metric,
    anchor_breakout__areas,
    anchor_breakout__deep,
    anchor_breakout__metric,
    anchor_breakout__phi,
    anchor_forces__contact,
    anchor_interaction__outline,
    anchor_plate__limit_analysis,
    anchor_pryout__published,
    anchor_pullout__phi,
    anchor_pullout__published,
    anchor_reinforcement__geometry,
    anchor_rod__areas_and_grades,
    anchor_seismic__routes,
    anchor_shear_breakout__areas,
    anchor_shear_breakout__metric,
    anchor_shear_breakout__phi,
    anchor_spacing__table,
    anchor_standoff__strips,
    anchor_steel__phi,
    anchor_steel__published,
    anchor_steel_report__phi,
    axial_and_bending__design_examples,
    bar_bending__design_examples,
    bar_bending__mechanics,
    bar_development__table,
    bent_share__unlike_posts,
    bent_share__wind_on_posts,
    blade__design_examples,
    blade__drawn_plate,
    block_shear__design_examples,
    braced_bent__frame_solver,
    cast_anchors__edges,
    cast_anchors__put_together,
    column__worked_examples,
    column_bending__second_order,
    column_bending__worked_examples,
    concrete_bearing__spread,
    connection_factors__nds_11_3,
    dead_load__surface,
    dowel_bearing__nds_12_3_3,
    floor_fasteners__assembled,
    foundation_weight__slices,
    frost__exception,
    ground_elevation__table_26_9_1,
    group_action__nds_11_3_6a,
    group_action__nds_11_3_6c,
    lag_withdrawal__nds_12_2a,
    lag_yield__equilibrium,
    lag_yield__gap_equilibrium,
    lag_yield__nds_12a,
    lag_yield__nds_12k,
    lag_yield__tr12_gap,
    net_tension__section_cells,
    net_tension__worked_examples,
    overturning__edge,
    pier__equilibrium,
    pier_bars__ring,
    pier_constrained__equilibrium,
    pin_yield__equilibrium,
    pin_yield__nds_12f_double_shear_wood,
    pin_yield__nds_12g_double_shear_steel_side,
    plain_footing__grid,
    plain_footing__moment,
    plain_pier__round,
    plain_pier__strips,
    post_moment__statics,
    post_moment__sway,
    post_moment__walked,
    post_moment__wind,
    post_section__by_hand,
    roof_live__corners,
    roof_snow__slope_factor,
    roof_snow__worked,
    screw_withdrawal__nds_12_2b,
    seat__design_examples,
    seat__limit_analysis,
    seat__side_plates,
    seismic_category__tables_11_6,
    seismic_ground__permits,
    seismic_shear__permits,
    seismic_shear__spectrum,
    seismic_site__routes,
    side_bearing__effective_area,
    side_bearing__nds_3_10_4,
    side_plates__assembled,
    site_coefficients__permits,
    site_coefficients__straight_lines,
    sleeve_base__put_together,
    sliding__integrated,
    soil_bearing__plane,
    soil_values__table,
    standoff__design_examples,
    standoff__mechanics,
    tables__anchor_lambda,
    tables__clearances_ibc,
    tables__clearances_irc,
    tables__design_values,
    tables__dressed_sizes,
    tables__presumptive_soil,
    tables__site_coefficients,
    tables__specific_gravity,
    tables__steel_grades,
    tear_out__integration,
    tear_out__nds_app_e,
    uplift_weight__parts,
    velocity_pressure__si,
    velocity_pressure__table_26_10_1,
    velocity_pressure__worked,
    weld__design_examples,
    weld__springs,
    wind_edges__si,
    wind_members__si,
    wind_open_roof__figures,
    wind_open_roof__interpolation,
    wind_post__vectors,
    wind_slats__figure_29_4_2,
    wind_slats__si,
}

/// Nothing that a file expects is missed.
fn hold(test: &str) {
    let name = test.replace('_', "-");
    let grid = read(&root().join(format!("tests/check-values/{name}.csv")));
    let wrong = match name.split("--").next().expect("a sheet") {
        "tables" => wrong_in_tables(&grid),
        sheet => wrong_in_sheet(&grid, sheet),
    };
    assert!(wrong.is_empty(), "{name}:\n{}", wrong.join("\n"));
}

/// A file that is not in the list would pass in silence.
#[test]
fn every_file_is_a_test() {
    let mut names: Vec<String> =
        paths().iter().map(|path| path.file_stem().expect("a name").to_string_lossy().replace('-', "_")).collect();
    names.sort();
    assert_eq!(names, FILES, "tests/check_values.rs lists the files of tests/check-values in order");
}

/// Guards the set itself: a file that is no longer read would pass in silence.
#[test]
fn numbers_of_each_kind() {
    let mut counts: BTreeMap<(bool, String), usize> = BTreeMap::new();
    for path in paths() {
        let in_table = path.to_string_lossy().contains("/tables--");
        let grid = read(&path);
        for row in 0..grid.rows.len() {
            assert!(!cell(&grid, row, "source").is_empty(), "{}: a row without a source", path.display());
            let kind = cell(&grid, row, "kind").to_string();
            *counts.entry((in_table, kind)).or_default() += expected(&grid, row).count();
        }
    }
    println!("{counts:?}");
    let of = |kind: &str| counts.get(&(false, kind.to_string())).copied().unwrap_or(0);
    assert!(of("published") >= 15 && of("recalled") >= 400 && of("independent") >= 100, "{counts:?}");
    let in_tables: usize = counts.iter().filter(|((in_table, _), _)| *in_table).map(|(_, count)| count).sum();
    assert!(in_tables >= 20, "{counts:?}");
}

fn paths() -> Vec<PathBuf> {
    let folder = std::fs::read_dir(root().join("tests/check-values")).expect("check values");
    let paths = folder.map(|entry| entry.expect("an entry").path());
    paths.filter(|path| path.extension().is_some_and(|ext| ext == "csv")).collect()
}

fn read(path: &std::path::Path) -> Grid {
    let text = std::fs::read_to_string(path).expect("a file");
    Grid::read(&Source::new(path.display().to_string(), text)).unwrap_or_else(|wrong| panic!("{wrong:#?}"))
}

/// Nothing in a column that the file does not have.
fn cell<'a>(grid: &'a Grid, row: usize, column: &str) -> &'a str {
    grid.column(column).map_or("", |column| &grid.rows[row][column].text)
}

/// The numbers that a row expects: the name without its `expect`, the column, the number.
fn expected(grid: &Grid, row: usize) -> impl Iterator<Item = (&str, &Column, f64)> {
    let cells = grid.columns.iter().zip(&grid.rows[row]).filter(|(_, cell)| !cell.text.is_empty());
    cells.filter_map(|(column, cell)| {
        let number = || cell.text.parse().unwrap_or_else(|_| panic!("`{}` is no number", cell.text));
        column.name.strip_prefix("expect ").map(|name| (name, column, number()))
    })
}

/// What a sheet comes to where a row says something else.
fn wrong_in_sheet(grid: &Grid, sheet: &str) -> Vec<String> {
    let sheet = LIBRARY.sheet(sheet).unwrap_or_else(|| panic!("there is no sheet `{sheet}`"));
    let worked = Alone::new(sheet, &LIBRARY).and_then(|alone| alone.rows(grid, &Facts::new()));
    let worked = worked.unwrap_or_else(|wrong| panic!("{}", socle::report::diagnostics(&wrong, false)));
    let mut wrong = Vec::new();
    for (row, worked) in worked.iter().enumerate() {
        for (name, column, wanted) in expected(grid, row) {
            // A source may print another unit than the sheet.
            let unit = column.unit.clone().unwrap_or_else(Unit::none);
            compare(grid, row, name, symbol(worked, name).map(|base| unit.from_base(base)), wanted, &mut wrong);
        }
    }
    wrong
}

/// The value of `Z`, or of `pin-yield.Z` in a sheet that is used.
fn symbol(worked: &Worked, name: &str) -> Option<f64> {
    let (path, name) = name.rsplit_once('.').unwrap_or(("", name));
    let sheet = path.split('.').filter(|name| !name.is_empty()).try_fold(worked, |above, name| {
        above.steps.iter().find_map(|step| match step {
            Step::Use(inner) if inner.name == name => Some(&**inner),
            _ => None,
        })
    });
    match &sheet?.bound.get(name)?.value {
        Value::Quantity(quantity) => Some(quantity.value),
        _ => None,
    }
}

fn compare(grid: &Grid, row: usize, name: &str, found: Option<f64>, wanted: f64, wrong: &mut Vec<String>) {
    let of = |column: &str| cell(grid, row, column);
    let tolerance: f64 = of("tolerance").parse().expect("a tolerance");
    let far = found.map_or(f64::INFINITY, |found| (found - wanted).abs());
    let close = match of("tolerance_kind") {
        "abs" => far <= tolerance,
        "rel" => far <= tolerance * wanted.abs(),
        kind => panic!("unknown kind of tolerance `{kind}`"),
    };
    if !close {
        let found = found.map_or("nothing".into(), |found| found.to_string());
        wrong.push(format!("{}: {name} is {found}, {} says {wanted}", of("id"), of("source")));
    }
}

/// Columns of a file of table rows that are no key of the table.
const ABOUT: [&str; 7] = ["id", "table", "tolerance", "tolerance_kind", "source", "kind", "note"];

/// What a built-in table holds where a row says something else.
fn wrong_in_tables(grid: &Grid) -> Vec<String> {
    let mut wrong = Vec::new();
    for row in 0..grid.rows.len() {
        let table = read(&root().join(format!("templates/tables/{}.csv", cell(grid, row, "table"))));
        let is_key = |name: &str| !ABOUT.contains(&name) && !name.starts_with("expect ");
        let keys: Vec<(&str, &str)> = grid
            .columns
            .iter()
            .zip(&grid.rows[row])
            .filter(|(column, cell)| is_key(&column.name) && !cell.text.is_empty())
            .map(|(column, cell)| (column.name.as_str(), cell.text.as_str()))
            .collect();
        let entry = (0..table.rows.len()).find(|entry| keys.iter().all(|(key, is)| cell(&table, *entry, key) == *is));
        let entry = entry.unwrap_or_else(|| panic!("{}: no row for {keys:?}", cell(grid, row, "id")));
        let number = |name: &str| cell(&table, entry, name).parse::<f64>().ok();
        for (name, _, wanted) in expected(grid, row) {
            // Section properties follow from the sizes in the table.
            let power = ["A", "S", "I"].iter().position(|known| *known == name).filter(|_| number(name).is_none());
            let found = match power {
                Some(power) => {
                    number("b").zip(number("d")).map(|(b, d)| b * d.powi(power as i32 + 1) / [1.0, 6.0, 12.0][power])
                }
                None => number(name),
            };
            compare(grid, row, name, found, wanted, &mut wrong);
        }
    }
    wrong
}
