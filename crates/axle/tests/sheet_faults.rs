//! Sheets with faults: each fault at its line and column, with the offending text and what would be accepted.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

use std::sync::LazyLock;

use axle::read_sheet;
use catalog::{Catalog, Measurand};
use quantity::{Leading, both};

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

/// What a fault has to be: line, column, offending text, part of the problem, part of what would be accepted.
type Expected<'e> = (usize, usize, &'e str, &'e str, &'e str);

/// Holds that the sheet has exactly these faults, in this order.
#[track_caller]
fn assert_faults(text: &str, expected: &[Expected<'_>]) {
    let faults = match read_sheet("order.toml", text, &SHIPPED) {
        Ok(_) => panic!("no fault was found"),
        Err(faults) => faults,
    };
    let found: Vec<_> = faults.iter().map(|fault| (fault.line, fault.column, fault.offending.as_str())).collect();
    let places: Vec<_> = expected.iter().map(|(line, column, offending, _, _)| (*line, *column, *offending)).collect();
    assert_eq!(found, places, "\n{faults}");
    for (fault, (_, _, _, problem, accepted)) in faults.iter().zip(expected) {
        assert!(fault.problem.contains(problem), "{fault}\nshould say: {problem}");
        assert!(fault.accepted.contains(accepted), "{fault}\nshould accept: {accepted}");
        assert_eq!(fault.file, "order.toml");
    }
}

/// The five lines of a sound `[order]` in inches, and then `rest` from line 6 on.
fn inch_sheet(rest: &str) -> String {
    format!("[order]\nreference = \"A-1\"\nuse = \"street\"\nsides = [\"left\", \"right\"]\nunit = \"in\"\n{rest}")
}

/// The accepted range of a measurand as a fault in an inch sheet says it.
fn range_in_inches(measurand: Measurand) -> String {
    let (least, most) = SHIPPED.measurand(measurand).accepted;
    format!("a size from {} to {}", both(least, Leading::Inches), both(most, Leading::Inches))
}

#[test]
fn syntax() {
    assert_faults(
        &inch_sheet("[left]\nreach = 26 5/8\n"),
        &[(7, 9, "26 5/8", "without quotation marks", "\"26 5/8\"")],
    );
    assert_faults(&inch_sheet("[left]\nreach = '26 5/8\"\n"), &[(7, 17, "", "the text is not closed", "' at its end")]);
}

#[test]
fn five_faults_in_one_file() {
    assert_faults(
        &inch_sheet(
            "[shared]\n\
             tooth_count = 31.5\n\
             flange_diametre = 6\n\
             housing_width = \"55 5/8 furlong\"\n\
             [left]\n\
             overall_length = { value = 790, instrument = \"taep\" }\n",
        ),
        &[
            (7, 15, "31.5", "not a whole number", "a whole number"),
            (8, 1, "flange_diametre", "did you mean `flange_diameter`?", "the key of a reading"),
            (9, 25, "furlong", "unit", "mm"),
            (11, 28, "790", "overall length cannot be 790.000 in", "`790 mm` would lie in it"),
            (11, 46, "\"taep\"", "did you mean \"tape\"?", "\"steel rule\""),
        ],
    );
}

#[test]
fn an_order_without_what_is_required() {
    assert_faults("", &[(1, 1, "", "`order` is missing", "[order]")]);
    assert_faults(
        "[order]\n",
        &[
            (1, 1, "[order]", "`reference` is missing", "reference"),
            (1, 1, "[order]", "`sides` is missing", "sides"),
            (1, 1, "[order]", "`use` is missing", "use"),
        ],
    );
    assert_faults(
        "[order]\nreference = \"  \"\nuse = \"farm\"\nsides = [\"left\"]\n",
        &[(2, 13, "\"  \"", "empty", "not empty"), (3, 7, "\"farm\"", "not known for `use`", "\"off-road\"")],
    );
}

#[test]
fn sides() {
    let order = |sides: &str| format!("[order]\nreference = \"A\"\nuse = \"tow\"\nsides = {sides}\n");
    assert_faults(&order("[]"), &[(4, 9, "[]", "no side is named", "`[\"left\"]`")]);
    assert_faults(
        &order("[\"left\", \"left\"]"),
        &[(4, 18, "\"left\"", "the left side is named twice", "[\"left\", \"right\"]")],
    );
    assert_faults(&order("[\"rigth\"]"), &[(4, 10, "\"rigth\"", "did you mean \"right\"?", "\"left\", \"right\"")]);
    assert_faults(&order("\"left\""), &[(4, 9, "\"left\"", "a list", "a list in brackets")]);
}

#[test]
fn unknown_sections_and_keys() {
    assert_faults(
        &inch_sheet("[brakes]\nkind = \"drum\"\n[left]\nreach = { value = 26, instrumnt = \"tape\" }\n"),
        &[
            (6, 2, "brakes", "did you mean `brake`?", "housing_end"),
            (9, 23, "instrumnt", "did you mean `instrument`?", "conditions"),
        ],
    );
    assert_faults(
        &inch_sheet("[stud]\ntread = \"1/2-20\"\n[fitting]\nbearing = \"shop\"\n"),
        &[(7, 1, "tread", "did you mean `thread`?", "hole"), (9, 1, "bearing", "did you mean `bearings`?", "studs")],
    );
    // No section lets one pass.
    for section in ["fitting", "bearing", "housing_end", "brake", "stud", "spline", "shared", "left", "right"] {
        assert_faults(&inch_sheet(&format!("[{section}]\nxyz = 1\n")), &[(7, 1, "xyz", "not known", "")]);
    }
    // A reading outside the sections that hold readings.
    assert_faults(&inch_sheet("reach = 26\n"), &[(6, 1, "reach", "not known here", "sides")]);
    // Nothing near.
    assert_faults(
        &inch_sheet("[left]\ncolour = 1\n"),
        &[(7, 1, "colour", "`colour` is not known as a reading", "such as `overall_length`")],
    );
}

#[test]
fn doubled_keys_and_sections() {
    assert_faults(
        &inch_sheet("[left]\nreach = 26\nreach = 27\n"),
        &[(8, 1, "reach", "`reach` is written twice", "each key once")],
    );
    assert_faults(&inch_sheet("[left]\nreach = 26\n[left]\nhalf_width = 27\n"), &[(8, 2, "left", "twice", "once")]);
}

#[test]
fn a_size_without_unit_where_the_sheet_states_none() {
    assert_faults(
        "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\n[left]\nreach = 26\nhalf_width = \"26 5/8\"\n",
        &[(6, 9, "26", "no unit", "mm"), (7, 15, "26 5/8", "no unit", "mm")],
    );
}

#[test]
fn a_wrong_unit_of_the_sheet_is_one_fault_and_not_one_for_each_number() {
    let sheet = |unit: &str| {
        format!(
            "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\nunit = {unit}\n\
             [left]\nreach = 676\nhalf_width = 27\noverall_length = 5000000\n"
        )
    };
    assert_faults(
        &sheet("\"cm\""),
        &[
            (5, 8, "\"cm\"", "not known for `unit`", "\"in\", \"mm\""),
            (9, 18, "5000000", "overall length cannot be", ""),
        ],
    );
    assert_faults(&sheet("25.4"), &[(5, 8, "25.4", "text", ""), (9, 18, "5000000", "", "")]);
}

#[test]
fn sizes_that_cannot_be() {
    assert_faults(
        &inch_sheet(
            "[shared]\n\
             journal_diameter = -1.5\n\
             register_diameter = 0\n\
             wheel_bore = inf\n\
             edge_gap = nan\n\
             edge_span = 1e400\n\
             drum_bore = \"2.785 km\"\n",
        ),
        &[
            (7, 20, "-1.5", "negative", ""),
            (8, 21, "0", "register diameter cannot be 0.000 in", &range_in_inches(Measurand::RegisterDiameter)),
            (9, 14, "inf", "not a number", "a number"),
            (10, 12, "nan", "not a number", "a number"),
            (11, 14, "e", "not a unit of length", "mm"),
            (12, 20, "km", "unit", "mm"),
        ],
    );
}

#[test]
fn an_absurd_size_is_told_the_range_in_the_unit_of_the_sheet() {
    assert_faults(
        &inch_sheet("[shared]\nbearing_outside = 80\n[left]\noverall_length = [\"31 5/16\", \"3 5/16\"]\n"),
        &[
            (7, 19, "80", "bearing outside diameter cannot be 80.000 in (2032.0 mm)", "`80 mm` would lie in it"),
            (9, 30, "\"3 5/16\"", "overall length cannot be 3.312 in", &range_in_inches(Measurand::OverallLength)),
        ],
    );
    let (least, most) = SHIPPED.measurand(Measurand::OverallLength).accepted;
    let range = format!("{} to {}", both(least, Leading::Millimetres), both(most, Leading::Millimetres));
    let metric =
        "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\nunit = \"mm\"\n[left]\noverall_length = ";
    assert_faults(
        &format!("{metric}31.3\n"),
        &[(7, 18, "31.3", "overall length cannot be 31.3 mm", "`31.3 in` or `31.3 cm` would lie in it")],
    );
    // The range comes in the sheet's unit whatever the size itself is written in; no other unit would do.
    assert_faults(&format!("{metric}\"2 in\"\n"), &[(7, 18, "\"2 in\"", "overall length cannot be 50.8 mm", &range)]);
}

#[test]
fn counts() {
    assert_faults(
        &inch_sheet("[shared]\ntooth_count = [31, 31]\nhole_count = 2\n"),
        &[
            (7, 15, "[31, 31]", "no repeats to average", "one whole number"),
            (8, 14, "2", "number of wheel studs cannot be 2", "a whole number from 3 to 12"),
        ],
    );
    assert_faults(
        &inch_sheet("[shared]\ntooth_count = { value = \"31 in\" }\nhole_count = \"five\"\n"),
        &[
            (7, 29, "in", "stands after the count", "a whole number"),
            (8, 15, "five", "not a whole number", "a whole number"),
        ],
    );
}

#[test]
fn names_that_the_catalog_does_not_hold() {
    assert_faults(
        "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\ndifferential = \"limited slip\"\n\
         [bearing]\nrow = \"40x80x18 bal\"\n\
         [housing_end]\nrow = \"80 mm bore, 3.45 x 2.3 in\"\n\
         [brake]\nrow = \"drum 10 x 2 1/4 in\"\n\
         [spline]\nseries = \"24/48\"\n",
        &[
            (5, 16, "\"limited slip\"", "did you mean \"limited-slip\"?", "\"locker\""),
            (7, 7, "\"40x80x18 bal\"", "did you mean \"40x80x18 ball\"?", "the name of a bearing"),
            (9, 7, "\"80 mm bore, 3.45 x 2.3 in\"", "did you mean \"80 mm bore, 3.45 x 2.30 in\"?", "\"72 mm bore"),
            (11, 7, "\"drum 10 x 2 1/4 in\"", "did you mean \"drum 10 x 2 1/2 in\"?", "\"drum 9 x 1 3/4 in\""),
            (13, 10, "\"24/48\"", "the catalog holds no spline series", "\"24/48, 45°, fillet root\""),
        ],
    );
}

#[test]
fn instruments_and_conditions() {
    assert_faults(
        &inch_sheet(
            "[left]\nreach = { value = 26, instrument = 'calliper', conditions = ['rust', 'worn', 'worn'] }\n\
             half_width = { value = 27, conditions = 'worn', by = 3 }\n",
        ),
        &[
            (7, 36, "'calliper'", "did you mean \"caliper\"?", "\"micrometer\""),
            (7, 62, "'rust'", "did you mean \"rusty\"?", "\"through the access hole\""),
            (7, 78, "'worn'", "named twice", "each condition once"),
            (8, 41, "'worn'", "a list", "a list in brackets"),
            (8, 54, "3", "text", "text"),
        ],
    );
}

#[test]
fn readings_in_a_section_that_cannot_hold_them() {
    assert_faults(
        &inch_sheet("[shared]\noverall_length = 31\n[right]\nhousing_width = 55\n"),
        &[
            (7, 1, "overall_length", "overall length differs from side to side", "in [left] or [right]"),
            (9, 1, "housing_width", "housing width belongs to the whole axle", "`housing_width` in [shared]"),
        ],
    );
}

#[test]
fn values_of_the_wrong_type() {
    assert_faults(
        &inch_sheet(
            "shared = 3\n[left]\nreach = true\nhalf_width = 2026-11-25\noverall_length = [[31]]\n\
             [brake]\nchanged = \"yes\"\nkind = 2\n[stud]\nthread = 20\n",
        ),
        // `shared` stands under [order] here.
        &[
            (6, 1, "shared", "not known here", "reference"),
            (8, 9, "true", "a length", ""),
            (9, 14, "2026-11-25", "a length", ""),
            (10, 19, "[31]", "a length", ""),
            (12, 11, "\"yes\"", "true or false", "true or false"),
            (13, 8, "2", "text", "text"),
            (15, 10, "20", "text", "text"),
        ],
    );
    assert_faults(
        "shared = 3\n[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\n",
        &[(1, 10, "3", "`shared` must be a table", "[shared]")],
    );
}

#[test]
fn lists_that_mix_repeats_with_separate_readings() {
    assert_faults(
        &inch_sheet("[left]\nreach = [26, { value = 26.1 }]\nhalf_width = [{ value = 27 }, '27 1/8', 28]\n"),
        &[
            (7, 14, "{ value = 26.1 }", "mixes repeats with separate readings", "only values"),
            (8, 31, "'27 1/8'", "mixes repeats with separate readings", "only tables"),
        ],
    );
    // What else is wrong in such a list is said as well.
    assert_faults(
        &inch_sheet("[left]\nreach = [260, { value = 26, instrument = 'tap' }]\n"),
        &[
            (7, 10, "260", "reach cannot be", "`260 mm`"),
            (7, 15, "{ value = 26, instrument = 'tap' }", "mixes", "only values"),
            (7, 42, "'tap'", "did you mean \"tape\"?", "\"tape\""),
        ],
    );
}

#[test]
fn empty_lists_and_tables_without_a_value() {
    assert_faults(
        &inch_sheet("[left]\nreach = []\nhalf_width = { value = [] }\noverall_length = { instrument = 'tape' }\n"),
        &[
            (7, 9, "[]", "the list for reach is empty", "at least one value"),
            (8, 24, "[]", "the list for half width of the housing is empty", "at least one value"),
            (9, 18, "{ instrument = 'tape' }", "`value` is missing", "value"),
        ],
    );
}

#[test]
fn a_size_over_pins_needs_its_pins_and_nothing_else_has_them() {
    assert_faults(
        &inch_sheet("[shared]\nspline_over_pins = '1.412'\njournal_diameter = { value = 1.5, pin = 0.08 }\n"),
        &[
            (7, 20, "'1.412'", "without the diameter of the pins", "{ value = '1.412', pin = "),
            (8, 35, "pin", "not measured over pins", "only in `spline_over_pins`"),
        ],
    );
    assert_faults(
        &inch_sheet("[shared]\nspline_over_pins = { value = 1.412 }\n"),
        &[(7, 20, "{ value = 1.412 }", "`pin` is missing", "pin")],
    );
    assert_faults(
        &inch_sheet("[left]\nspline_over_pins = { value = 1.412, pin = 2 }\n"),
        &[(7, 43, "2", "a pin of 2.000 in", "a diameter from 0.014 in (0.4 mm) to 0.353 in (9.0 mm)")],
    );
}

#[test]
fn claims_that_contradict_each_other() {
    assert_faults(
        &inch_sheet(
            "[bearing]\nrow = '40x80x18 ball'\nkind = 'tapered'\n\
             [brake]\nrow = 'disc 11 5/8 in'\nkind = 'drum'\nretainer = 'plate'\nbracket_sent_in = true\n",
        ),
        &[
            (8, 8, "'tapered'", "\"40x80x18 ball\" is of the kind \"ball\"", "\"ball\""),
            (11, 8, "'drum'", "\"disc 11 5/8 in\" is of the kind \"disc\"", "\"disc\""),
            (13, 19, "true", "the retainer is a plate", "caliper bracket"),
        ],
    );
}

#[test]
fn sizes_among_the_claims() {
    assert_faults(
        &inch_sheet("[brake]\nrequired_offset = 63.5\n[stud]\nhole = 14\nthread = '1/2-'\n"),
        &[
            (7, 19, "63.5", "brake offset cannot be", "`63.5 mm`"),
            (9, 8, "14", "stud hole diameter cannot be", "`14 mm`"),
            (10, 11, "1/2-", "no pitch", "1/2-20"),
        ],
    );
}

#[test]
fn places_hold_with_carriage_returns_tabs_and_letters_beyond_ascii() {
    assert_faults(
        "[order]\r\nreference = \"Bühne 3″\"\r\nuse = \"tow\"\r\nsides = [\"left\"]\r\nunit = \"in\"\r\n\
         [left]\r\n\treach\t=\t{ by = \"Jäger\", value = 260 }\r\n",
        &[(7, 34, "260", "reach cannot be", "`260 mm`")],
    );
    assert_faults(
        &inch_sheet("[left]\nreach = { by = 'höfische Wäge ″', value = '31 5/16 ynch' }\n"),
        &[(7, 52, "ynch", "unit", "mm")],
    );
}

#[test]
fn loads_are_faulted_at_their_place() {
    assert_faults(
        &inch_sheet(
            "[vehicle]\n\
             axle_load = \"1800\"\n\
             mass = \"1800 lm\"\n\
             grip = 9\n\
             engine_torque = \"300 kg\"\n\
             tyre_radius = \"13 mm\"\n\
             wheelbse = \"100 in\"\n",
        ),
        &[
            (7, 14, "1800", "the mass has no unit", "1850 lb"),
            (8, 14, "lm", "not a unit of mass, did you mean \"lb\"?", "kg, lb or t"),
            (9, 8, "9", "the grip of the tyres cannot be 9", "0.1 to 3"),
            (10, 22, "kg", "not a unit of torque", "N·m or lb·ft"),
            (11, 15, "\"13 mm\"", "the radius of the tyre under load cannot be 13.0 mm", "150.0 mm"),
            (12, 1, "wheelbse", "`wheelbse` is not known here, did you mean `wheelbase`?", "axle_load"),
        ],
    );
}

#[test]
fn an_axle_that_carries_more_than_the_vehicle() {
    assert_faults(
        &inch_sheet("[vehicle]\naxle_load = \"900 kg\"\nmass = \"800 kg\"\n"),
        &[(7, 13, "\"900 kg\"", "more than the whole vehicle", "no more than `mass`")],
    );
}

#[test]
fn steel_and_lock_ring() {
    assert_faults(
        &inch_sheet("[steel]\ngrade = \"4140\"\nhardening = \"flame\"\n"),
        &[
            (6, 1, "[steel]", "by its treatment, and none is given", "\"annealed\""),
            (8, 13, "\"flame\"", "\"flame\" is not known for `hardening`", "\"induction\", \"none\""),
        ],
    );
    assert_faults(
        &inch_sheet("[steel]\ngrade = \"1541\"\ntreatment = \"annealed\"\n"),
        &[(8, 13, "\"annealed\"", "no treatment of that steel \"annealed\"", "\"hot-rolled\"")],
    );
    assert_faults(
        &inch_sheet("[lock_ring]\nbore = 1.5\ninterference = 0.003\n"),
        &[(7, 8, "1.5", "one follows from the other", "not both")],
    );
    assert_faults(
        &inch_sheet("[lock_ring]\nbore = 15\n"),
        &[(7, 8, "15", "the bore of the lock ring cannot be", "a size from")],
    );
}

#[test]
fn a_sign_belongs_to_the_wheel_offset_alone() {
    assert_faults(
        &inch_sheet("[vehicle]\nwheel_offset = '--1\"'\ntrack = \"-50\"\n"),
        &[
            (7, 18, "-1\"", "a length is not negative", "nought or more"),
            (8, 10, "-50", "a length is not negative", "nought or more"),
        ],
    );
}

/// A sheet that is in millimetres as a whole and says inches is told so once, at the unit, before all else.
#[test]
fn one_wrong_unit_for_a_whole_sheet_is_named_at_the_unit() {
    let text = r#"
[order]
reference = "Q-1"
use = "street"
unit = "in"
sides = ["left"]
[shared]
flange_diameter = "152.4"
register_diameter = "70.59"
wheel_pilot_diameter = "69.1"
shoulder_distance = "55.3"
bearing_outside = "80 mm"
[left]
overall_length = "737"
"#;
    let catalog = catalog::Catalog::shipped().unwrap();
    let faults = axle::read_sheet("Q-1.toml", text, &catalog).unwrap_err().to_string();
    let first = faults.lines().next().unwrap_or_default();
    assert!(first.starts_with("Q-1.toml:5:8: 5 of the 5 sizes that name no unit cannot be in `in`"), "{faults}");
    assert!(faults.contains("`unit = \"mm\"`"), "{faults}");
    // One slip alone is no matter of the sheet.
    let one = text.replace("unit = \"in\"", "unit = \"mm\"").replace("\"737\"", "\"29.02\"");
    let faults = axle::read_sheet("Q-1.toml", &one, &catalog).unwrap_err().to_string();
    assert!(!faults.contains("the whole sheet"), "{faults}");
}

#[test]
fn an_access_hole_is_a_size_or_none_and_its_circle_belongs_to_it() {
    assert_faults(
        &inch_sheet("[flange]\naccess_hole = \"no\"\n"),
        &[(7, 15, "\"no\"", "\"no\" is no access hole", "or `\"none\"`")],
    );
    assert_faults(
        &inch_sheet("[flange]\naccess_hole = 28\n"),
        &[(7, 15, "28", "an access hole of 28.000 in (711.2 mm) cannot be", "a size from 0.236 in (6.0 mm)")],
    );
    for hole in ["", "access_hole = \"none\"\n"] {
        let line = if hole.is_empty() { 7 } else { 8 };
        assert_faults(
            &inch_sheet(&format!("[flange]\n{hole}access_hole_circle = 4.5\n")),
            &[(line, 22, "4.5", "no access hole whose circle this could be", "`access_hole` with a size")],
        );
    }
    assert_faults(
        &inch_sheet("[flange]\nacess_hole = 1.0\n"),
        &[(7, 1, "acess_hole", "did you mean `access_hole`?", "access_hole_circle")],
    );
}

#[test]
fn a_correction_is_a_value_of_its_own_reading_and_nobody_confirms_what_is_not_there() {
    assert_faults(
        &inch_sheet(
            "[left]\noverall_length = { value = '29 1/2\"', taken_as = \"an inch less\" }\n\
             reach = { value = '26 1/2\"', confirmed_by = \"customer\" }\n\
             half_width = { value = '27 1/2\"', taken_by = \"Wenna\" }\n",
        ),
        &[
            (7, 51, "an", "not a number", "31 5/16"),
            (8, 30, "confirmed_by", "this reading has no correction", "`taken_as` beside it"),
            (9, 35, "taken_by", "this reading has no correction", "`taken_as` beside it"),
        ],
    );
    assert_faults(
        &inch_sheet("[left]\noverall_length = { value = '29 1/2\"', taken_as = '290 1/2\"', confirmed_by = \"\" }\n"),
        &[
            (7, 50, "'290 1/2\"'", "overall length cannot be 290.500 in", &range_in_inches(Measurand::OverallLength)),
            (7, 77, "\"\"", "empty", ""),
        ],
    );
    assert_faults(
        &inch_sheet("[shared]\nhole_count = { value = 5, taken_as = \"five and a half\" }\n"),
        &[(7, 39, "five", "not a whole number", "a whole number from 1 to 999")],
    );
    // Without a unit on the sheet a correction names its own, as every size does.
    let unitless = "[order]\nreference = \"A-1\"\nuse = \"street\"\nsides = [\"left\"]\n";
    assert_faults(
        &format!("{unitless}[left]\nreach = {{ value = '26 1/2\"', taken_as = \"25 1/2\" }}\n"),
        &[(6, 42, "25 1/2", "has no unit", "the number with its unit")],
    );
}

#[test]
fn the_unit_of_a_sheet_is_judged_by_what_was_read_and_not_by_corrections() {
    let sheet = inch_sheet(
        "[left]\noverall_length = { value = '29 1/2\"', taken_as = \"29\" }\nreach = { value = \"26.5\", taken_as = [\"26.4\", \"26.5\"] }\n",
    );
    let sheet = read_sheet("order.toml", &sheet, &SHIPPED).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(sheet.readings.iter().all(|reading| reading.taken_as.is_some()));
}
