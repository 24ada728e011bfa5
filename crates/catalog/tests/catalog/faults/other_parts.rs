//! Faults of bolt circles, studs, brakes, differentials and steels.

use crate::files::expect_fault;

#[test]
fn bolt_circles() {
    let file = "bolt_circles.toml";
    let row = |holes: &str, diameter: &str| {
        format!("bolt_circle = [{{ holes = {holes}, diameter = {diameter}, weight = 1, source = \"shop: x\" }}]")
    };
    expect_fault(file, &row("§2", "'5\"'"), "no wheel has 2 studs", "3 to 12 holes");
    expect_fault(file, &row("§5.5", "'5\"'"), "\"5.5\" is not a whole number", "a whole number");
    expect_fault(file, &row("5", "§'0\"'"), "a size of nothing", "larger than 0");
    expect_fault(
        file,
        "bolt_circle = [\n  { holes = 5, diameter = '4 3/4\"', weight = 1, source = \"shop: x\" },\n  §{ holes = 5, diameter = \"120.65 mm\", weight = 2, source = \"shop: x\" },\n]",
        "circle of 5 holes on 120.65 mm is given twice in this file",
        "each row once",
    );
}

#[test]
fn studs() {
    let file = "studs.toml";
    let row = |rest: &str| format!("[[stud]]\nthread = \"1/2-20\"\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(
        file,
        "[[stud]]\nthread = \"§half inch\"\nsource = \"shop: x\"\n",
        "\"half inch\" is not a thread",
        "M12×1.5",
    );
    expect_fault(
        file,
        &row("knurl = §['0.5\"', '0.625\"']"),
        "the knurl is not larger than the thread",
        "a knurl that the thread passes inside of",
    );
    expect_fault(
        file,
        &row("hole = §['0.600\"', '0.620\"']"),
        "the largest hole would not hold the smallest knurl",
        "holes smaller than every knurl",
    );
}

#[test]
fn brakes() {
    let file = "brakes.toml";
    let row = |rest: &str| format!("[[brake]]\nname = \"disc 12 1/4 in\"\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(file, &row("kind = §\"disk\""), "did you mean \"disc\"?", "\"drum\", \"disc\"");
    expect_fault(file, &row("bore = §'7\"'"), "the bore is not smaller than the inside", "a bore smaller");
}

#[test]
fn differentials() {
    expect_fault(
        "differentials.toml",
        "[[differential]]\nname = \"open\"\ngear_reach = §{ mean = '0.1\"' }\nsource = \"shop: x\"\n",
        "the shaft would end before the side gear begins",
        "a gear reach larger than the end clearance",
    );
}

#[test]
fn steels() {
    let file = "steels.toml";
    let row =
        |rest: &str| format!("[[steel]]\ngrade = \"4140\"\ntreatment = \"annealed\"\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(
        file,
        &row("yield_strength = §700"),
        "the yield strength is not below the tensile strength",
        "both in MPa",
    );
    expect_fault(file, &row("tensile_strength = §95000"), "95000 is out of range", "up to 4000");
}

#[test]
fn loads() {
    let file = "loads.toml";
    let row = |rest: &str| format!("[[load]]\n{rest}\nsource = \"shop: x\"\n");
    expect_fault(
        file,
        &row("use = §\"strete\"\ninput = \"grip\"\nmild = 0.8\nharsh = 0.9"),
        "did you mean \"street\"?",
        "\"any\"",
    );
    expect_fault(
        file,
        &row("use = \"street\"\ninput = §\"gripp\"\nmild = 0.8\nharsh = 0.9"),
        "did you mean \"grip\"?",
        "\"axle_load\"",
    );
    expect_fault(
        file,
        &row("use = \"street\"\ninput = \"axle_load\"\nharsh = \"9§00 stone\"").replace("9§00 stone", "900 §stone"),
        "\"stone\" is not a unit of mass",
        "kg, lb or t",
    );
    expect_fault(
        file,
        &row("use = \"street\"\ninput = \"grip\"\nmild = §4"),
        "the grip of the tyres cannot be 4",
        "0.1 to 3",
    );
}
