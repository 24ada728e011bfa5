//! Faults of spline series.

use crate::files::expect_fault;

const FILE: &str = "splines.toml";

fn row(name: &str, rest: &str) -> String {
    format!("[[spline]]\nname = \"{name}\"\n{rest}\nsource = \"shop: x\"\n")
}

fn inch(rest: &str) -> String {
    row("24/48, 45°, fillet root", rest)
}

fn din(rest: &str) -> String {
    row("module 2, reference diameter stated", rest)
}

#[test]
fn systems_and_forms() {
    expect_fault(FILE, &inch("system = §\"B92.1\""), "is not known for `system`", "\"ANSI B92.1\"");
    expect_fault(FILE, &inch("pitch = §\"24/32\""), "\"24/32\" is no pitch of ANSI B92.1", "24/48");
    expect_fault(FILE, &inch("pitch = §\"coarse\""), "\"coarse\" is no pitch of ANSI B92.1", "24/48");
    expect_fault(FILE, &inch("root = §\"round\""), "is not known for `root`", "\"fillet\", \"flat\"");
    expect_fault(FILE, &inch("pressure_angle = §20"), "20", "30, 37.5 or 45");
    // A pitch belongs to the inch system alone.
    expect_fault(FILE, &row("module 1, 30°", "§pitch = \"24/48\""), "`pitch` is not known here", "module");
}

#[test]
fn another_system_inherits_nothing_of_the_old_one() {
    let text = format!("§{}", inch("system = \"ISO 4156\""));
    expect_fault(FILE, &text, "`module` is missing", "module");
    let text = format!("§{}", row("module 1, 30°", "system = \"DIN 5480\""));
    expect_fault(FILE, &text, "`module` is missing", "module");
}

#[test]
fn counts() {
    expect_fault(FILE, &inch("counts = §[]"), "no count at all", "at least one count");
    expect_fault(FILE, &inch("counts = [{ teeth = 28, weight = §0 }]"), "0 is out of range", "larger than 0");
    expect_fault(
        FILE,
        &inch("counts = [{ teeth = 28, weight = 1 }, { teeth = §28, weight = 2 }]"),
        "this count is given twice",
        "each count once",
    );
    expect_fault(FILE, &inch("counts = §[{ teeth = 4, weight = 1 }]"), "4 teeth: ", "splines that the standard holds");
}

#[test]
fn reference_diameters() {
    expect_fault(
        FILE,
        &din("counts = §[{ teeth = 18, weight = 1 }]"),
        "DIN 5480 sizes a spline by its reference diameter",
        "splines that the standard holds",
    );
    expect_fault(
        FILE,
        &inch("counts = §[{ teeth = 28, reference_diameter = \"30 mm\", weight = 1 }]"),
        "only DIN 5480 has a reference diameter",
        "splines that the standard holds",
    );
    expect_fault(
        FILE,
        &din("pressure_angle = 45\ncounts = §[{ teeth = 18, reference_diameter = \"40 mm\", weight = 1 }]"),
        "DIN 5480 knows 30° only",
        "splines that the standard holds",
    );
    expect_fault(
        FILE,
        &din("counts = §[{ teeth = 28, reference_diameter = \"40 mm\", weight = 1 }]"),
        "28 teeth: ",
        "splines that the standard holds",
    );
}
