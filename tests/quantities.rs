//! Values one by one: read as people type them, printed, in the units of a job and the system of a formula.

use socle::quantity::{
    Decimals, Dim, Quantity, System, Unit, Units, given_digits, is_size, number, number_fixed, read, slack,
};

use Units::{Imperial, Metric};

/// Inches in so many millimetres.
const MM: f64 = 1.0 / 25.4;

fn unit(name: &str) -> Unit {
    Unit::parse(name).expect(name)
}

fn read_in(text: &str, name: &str) -> Option<f64> {
    let reading = read(text, &[unit(name)], None, Decimals::Point).ok()?;
    Some(reading.quantity.in_unit(&unit(name)))
}

#[test]
fn fractions_signs_and_exponents_are_read() {
    for (text, name, value) in [
        ("8 ft 6 in", "in", 102.0),
        ("-8 ft 6 in", "in", -102.0),
        ("−8'-6 1/2\"", "in", -102.5),
        ("0 ft 11.5 in", "in", 11.5),
        ("-7 1/2 in", "in", -7.5),
        ("5 ½ in", "in", 5.5),
        ("M16", "mm", 16.0),
        ("2e3 lbf", "lbf", 2000.0),
        ("2e-3 kip", "kip", 0.002),
        ("1.5E+2lbf", "lbf", 150.0),
        ("1.5e12 lbf", "lbf", 1.5e12),
        ("1,234,567 lbf", "lbf", 1_234_567.0),
        ("12,345 lbf", "lbf", 12_345.0),
        ("8 in2", "in^2", 8.0),
        ("8 in²", "in^2", 8.0),
        ("2 LBF/FT", "lbf/ft", 2.0),
        ("3 lb-ft", "lbf ft", 3.0),
        ("6:12", "deg", 26.565051177),
    ] {
        let found = read_in(text, name).unwrap_or_else(|| panic!("{text} is not read"));
        assert!((found - value).abs() <= 1e-9 * value.abs(), "{text}: {found}");
    }
    for (text, name) in [
        ("2.5 1/2 in", "in"),
        ("7 3/2 in", "in"),
        ("1/0 in", "in"),
        ("8 ft 6 ft", "in"),
        ("8 ft 12 in", "in"),
        ("1234,567 lbf", "lbf"),
        ("0,123 lbf", "lbf"),
        ("1.5,000 lbf", "lbf"),
        ("8x8", "in"),
        ("6:0", "deg"),
        ("2 lbf", "in"),
        ("2", "in"),
    ] {
        assert_eq!(read_in(text, name), None, "{text}");
    }
    assert!(
        is_size("8x8") && is_size("6 X 10") && is_size("5.5×7") && !is_size("8") && !is_size("8x") && !is_size("x8")
    );
}

#[test]
fn decimals_tell_how_far_a_value_may_be_off() {
    let of = |text: &str, dim: Dim, comma: bool| {
        slack(text, dim, None, if comma { Decimals::Comma } else { Decimals::Point })
    };
    for (text, dim, comma, wanted) in [
        ("1.5e3 lbf", Dim::FORCE, false, 50.0),
        ("1.5e+3 lbf", Dim::FORCE, false, 50.0),
        ("1500.0e-2 lbf", Dim::FORCE, false, 0.0005),
        ("1 lbf", Dim::FORCE, false, 0.5),
        ("0 lbf", Dim::FORCE, false, 0.0),
        ("1,5 lbf", Dim::FORCE, true, 0.05),
        ("1 lbf ft", Dim::of(1, 1), false, 6.0),
        ("3 mm", Dim::LENGTH, false, 0.5 * MM),
        ("1 in", Dim::LENGTH, false, 1.0 / 64.0),
        ("1.50 psi", Dim::of(-2, 1), false, 0.005),
        ("3 psi", Dim::of(-2, 1), false, 0.0),
        // In another unit than the column's it is read; of another dimension it says nothing.
        ("3 mm", Dim::FORCE, false, 0.0),
    ] {
        assert!((of(text, dim, comma) - wanted).abs() < 1e-12, "{text}: {}", of(text, dim, comma));
    }
}

#[test]
fn numbers_are_printed_to_their_digits() {
    for (value, digits, text) in [
        (0.0, 4, "0"),
        (-0.0, 4, "0"),
        (f64::NAN, 4, "–"),
        (f64::INFINITY, 4, "–"),
        (0.99996, 4, "1"),
        (0.98736, 4, "0.9874"),
        (1_234_567.0, 4, "1,235,000"),
        (123_456.0, 6, "123,456"),
        (999.96, 4, "1,000"),
        (-1_160.4, 4, "−1,160"),
        (0.000_012_345, 3, "0.0000123"),
    ] {
        assert_eq!(number(value, digits), text);
    }
    for (value, decimals, text) in [
        (1_160.0, 1, "1,160.0"),
        (123.0, 0, "123"),
        (-0.04, 1, "0.0"),
        (-0.06, 1, "−0.1"),
        (123_456_789.0, 0, "123,456,789"),
    ] {
        assert_eq!(number_fixed(value, decimals), text);
    }
    // As many as were typed, up to seven; of a value that was converted, those of a result.
    for (value, digits) in
        [(0.0, 7), (1.234567, 7), (123_456.7, 7), (0.001234567, 7), (-7.5, 7), (1.2345678, 4), (1.0 / 3.0, 4)]
    {
        assert_eq!(given_digits(value), digits, "{value}");
    }
}

#[test]
fn what_cancels_is_shown_as_nothing() {
    let shown = |value: f64, dim: Dim| Quantity::new(value, dim).shown_in(&Units::Imperial.unit(dim));
    for dim in [Dim::FORCE, Dim::LENGTH, Dim::of(2, 0), Dim::of(1, 1), Dim::of(-1, 1)] {
        assert_eq!((shown(-9e-10, dim), shown(2e-9, dim)), (0.0, 2e-9), "{dim}");
    }
    for dim in [Dim::NONE, Dim::of(1, -1), Dim::of(-1, 0)] {
        assert_eq!(shown(9e-10, dim), 9e-10, "{dim}");
    }
}

#[test]
fn each_unit_has_a_metric_one() {
    for (inch, metric) in [
        ("in", "mm"),
        ("ft", "m"),
        ("in^2", "mm^2"),
        ("sf", "m^2"),
        ("ft^3", "m^3"),
        ("in^4", "mm^4"),
        ("lbf", "kN"),
        ("kip", "kN"),
        ("lbf ft", "kN m"),
        ("kip in", "kN m"),
        ("lbf in/in", "kN m/m"),
        ("psi", "MPa"),
        ("ksi", "MPa"),
        ("psf", "kPa"),
        ("lbf/ft^2", "kPa"),
        ("psf/ft", "kPa/m"),
        ("lbf/in", "N/mm"),
        ("plf", "kN/m"),
        ("lbf/ft", "kN/m"),
        ("pcf", "kN/m^3"),
        ("lbf/in^3", "N/mm^3"),
        ("in/lbf", "mm/kN"),
        ("lbf in^2", "kN m^2"),
        ("mph", "m/s"),
        ("degF", "degC"),
        ("deg", "deg"),
        ("s", "s"),
        ("%", "%"),
        ("kN", "kN"),
        ("N/mm", "N/mm"),
        ("cm", "cm"),
    ] {
        let (from, to) = (unit(inch), Metric.print(&unit(inch)));
        assert_eq!((to.name(), to.dim), (metric, from.dim), "{inch}");
        assert_eq!(Imperial.print(&from), from);
    }
    assert_eq!((Imperial.unit(Dim::of(-2, 1)).name(), Metric.unit(Dim::of(-2, 1)).name()), ("psi", "MPa"));
    assert!(unit("ft").same_size(&unit("foot")) && !unit("ft").same_size(&unit("in")));
    assert!(!unit("psi").same_size(&unit("in")));
}

/// Megapascals are newtons and millimetres, kilopascals are kilonewtons and metres; an inch or a pound makes it neither.
#[test]
fn a_formula_is_worked_in_the_system_of_its_units() {
    for (result, hints, length, force) in [
        ("MPa", vec!["kN", "mm^2"], "mm", "N"),
        ("kN", vec!["MPa", "mm^2"], "mm", "N"),
        ("kN", vec!["N/mm", "m"], "mm", "N"),
        ("kN", vec!["kN", "mm"], "mm", "kN"),
        ("kN", vec!["kPa", "mm^2"], "m", "kN"),
        ("kN", vec!["kN", "m"], "m", "kN"),
        ("kN m", vec!["kN", "mm"], "m", "kN"),
        ("kN/m", vec!["mm"], "m", "kN"),
        ("kPa", vec!["kN", "mm^2"], "m", "kN"),
        ("kPa", vec!["MPa"], "m", "kN"),
        ("m", vec!["mm", "MPa"], "m", "kN"),
        ("mm", vec!["kN", "mm"], "mm", "kN"),
        ("mm", vec!["kN/m", "mm"], "mm", "N"),
        ("mm", vec!["MPa", "kN"], "mm", "N"),
        ("mm/kN", vec!["mm", "kN"], "mm", "kN"),
        ("mm/kN", vec!["MPa", "mm"], "mm", "N"),
        ("lbf", vec!["psi", "in^2"], "in", "lbf"),
        ("kip", vec!["psf", "ft"], "ft", "kip"),
        ("in", vec!["ksi", "ft"], "in", "kip"),
        ("lbf/ft", vec!["psi"], "ft", "lbf"),
        ("mm", vec!["lbf"], "mm", "lbf"),
        ("lbf", vec!["kN", "mm"], "mm", "lbf"),
    ] {
        let hints: Vec<Unit> = hints.into_iter().map(unit).collect();
        let system = System::of(&unit(result), &hints);
        let (found, wanted) = (
            (system.unit(Dim::LENGTH).name().to_string(), system.unit(Dim::FORCE).name().to_string()),
            (length.to_string(), force.to_string()),
        );
        assert_eq!(found, wanted, "{result} of {hints:?}");
    }
    assert_eq!(System::of(&Unit::none(), &[]), System::INCH_POUND);
    let named = |system: System, dim| system.unit(dim).name().to_string();
    for (dim, inch, millimetre) in [
        (Dim::of(-2, 1), "psi", "MPa"),
        (Dim::of(1, 1), "lbf in", "N mm"),
        (Dim::of(-1, 1), "lbf/in", "N/mm"),
        (Dim::of(-3, 1), "lbf/in^3", "N/mm^3"),
        (Dim::of(3, 0), "in^3", "mm^3"),
        (Dim::of(1, -1), "in/lbf", "mm/N"),
        (Dim::of(-1, 0), "1/in", "1/mm"),
        (Dim::of(0, -1), "1/lbf", "1/N"),
        (Dim::ANGLE, "deg", "deg"),
        (Dim::NONE, "", ""),
    ] {
        assert_eq!(named(System::INCH_POUND, dim), inch);
        assert_eq!(named(System::MILLIMETRE_NEWTON, dim), millimetre);
        assert_eq!((System::INCH_POUND.unit(dim).dim, System::MILLIMETRE_NEWTON.unit(dim).dim), (dim, dim));
    }
}

#[test]
fn a_bound_is_rounded_to_its_safe_side() {
    for (inches, least, most) in [
        (7.51, "7 9/16″", "7 1/2″"),
        (7.53125, "7 17/32″", "7 17/32″"),
        (24.01, "2′-0 1/16″", "2′-0″"),
        (7.5, "7 1/2″", "7 1/2″"),
    ] {
        assert_eq!((Imperial.at_least(inches), Imperial.at_most(inches)), (least.into(), most.into()));
    }
    for (millimetres, least, most) in [
        (10.3, "10.3 mm", "10.3 mm"),
        (10.33, "10.5 mm", "10 mm"),
        (99.7, "99.7 mm", "99.7 mm"),
        (119.9, "120 mm", "119 mm"),
        (120.3, "121 mm", "120 mm"),
        (120.0, "120 mm", "120 mm"),
    ] {
        let found = (Metric.at_least(millimetres * MM), Metric.at_most(millimetres * MM));
        assert_eq!(found, (least.into(), most.into()), "{millimetres}");
    }
    assert!((Metric.measured_at_least(10.33 * MM) - 10.5 * MM).abs() < 1e-12);
    assert!((Imperial.measured_at_least(7.51) - 7.5625).abs() < 1e-12);
    for (least, most, from, to) in
        [(1.01, 1.99, "1 1/32″", "1 31/32″"), (1.0003, 1.0099, "1.001″", "1.009″"), (1.01, 1.035, "1 1/64″", "1 1/32″")]
    {
        assert_eq!(Imperial.between(least, most), (from.into(), to.into()));
    }
    for (least, most, from, to) in [
        (10.02, 11.98, "10.5 mm", "11.5 mm"),
        (10.02, 10.98, "10.1 mm", "10.9 mm"),
        (10.003, 10.089, "10.01 mm", "10.08 mm"),
    ] {
        assert_eq!(Metric.between(least * MM, most * MM), (from.into(), to.into()));
    }
}

#[test]
fn loads_and_sizes_are_said_in_the_units_of_a_job() {
    let said = [
        (Imperial.line_load_number(2.5), "30.0"),
        (Metric.line_load_number(2.5), "0.438"),
        (Imperial.moment(2_316.0), "193 lbf ft"),
        (Imperial.pressure(16.0 / 144.0), "16.0 psf"),
        (Imperial.soil_pressure(1_500.0 / 144.0), "1,500 psf"),
        (Imperial.area(16_128.0), "112 ft²"),
        (Metric.area(16_128.0), "10.41 m²"),
        (Imperial.volume(46_656.0), "27.0 ft³, 1.00 yd³"),
        (Imperial.volume(172_800.0), "100 ft³, 3.70 yd³"),
        (Imperial.run(12.5), "12′-6″"),
        (Imperial.run(8.015625), "8′-0 3/16″"),
        (Imperial.level(-1.25), "−1′-3″"),
        (Imperial.level(0.0), "+0′-0″"),
        (Metric.level(1.0), "+305 mm"),
        (Imperial.size(0.46875), "15/32″"),
        (Metric.length(99.06 * MM), "99 mm ±"),
        (Metric.length(104.6 * MM), "105 mm ±"),
        (Metric.length(99.5 * MM), "99.5 mm"),
    ];
    for (found, wanted) in said {
        assert_eq!(found, wanted);
    }
    assert_eq!(Metric.typed("8 ft 6 in", None, Decimals::Point).as_deref(), Some("2,590.8 mm"));
    assert_eq!(Metric.typed("190 mm", None, Decimals::Point), None);
    assert_eq!(Imperial.typed("8 ft", None, Decimals::Point), None);
}

#[test]
fn words_with_values_are_said_in_millimetres() {
    for (said, metric) in [
        ("at least 16 psf", "at least 0.7661 kPa"),
        ("11 in thick", "279.4 mm thick"),
        ("11 to 25 in deep", "279.4 to 635 mm deep"),
        ("2 in a row", "2 in a row"),
        ("4 in each end", "4 in each end"),
        ("no more than W/50 ft", "no more than W/50 ft"),
        ("Table B.1 psf", "Table B.1 psf"),
        ("No. 4 ft", "No. 4 ft"),
        ("6 inches", "6 inches"),
        ("2 lbf/in of it", "0.3503 N/mm of it"),
        ("10 threads per inch", "10 threads per inch"),
    ] {
        assert_eq!(Metric.words(said), metric);
        assert_eq!(Imperial.words(said), said);
    }
    for (said, metric) in [("within 1/8 in", "within 3 mm"), ("within 1/16 in", "within 1.5 mm"), ("1 ft", "0.3048 m")]
    {
        assert_eq!(Metric.words_on_site(said), metric);
    }
}
