//! `axlewright draw` as a shell sees it.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::path::{Path, PathBuf};

use assert_cmd::Command;

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders").join(name)
}

fn draw(sheet: &Path, arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_axlewright"));
    let output = command.arg("draw").arg(sheet).args(arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_drawing_goes_to_the_output_or_to_a_file() {
    let (status, out, error) = draw(&demo("01-hay-truck.toml"), &[]);
    assert_eq!((status, error.as_str()), (0, ""));
    assert!(out.starts_with("<svg ") && out.ends_with("</svg>\n"));
    for name in ["overall_length", "shoulder_distance", "journal_diameter", "flange_diameter"] {
        assert!(out.contains(&format!("data-dimension=\"{name}\"")), "{name}");
    }

    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("pair.dxf");
    let named = file.to_str().unwrap();
    let (status, out, error) = draw(&demo("01-hay-truck.toml"), &["--view", "pair", "--out", named]);
    assert_eq!((status, error.as_str()), (0, ""));
    assert_eq!(out, format!("{named}: Both axle shafts with the differential, Q-0101\n"));
    let written = std::fs::read_to_string(&file).unwrap();
    assert!(written.is_ascii() && written.ends_with("EOF\n") && written.contains("AC1015"));
}

#[test]
fn the_same_order_gives_the_same_bytes() {
    for arguments in [["--format", "svg"], ["--format", "dxf"]] {
        let once = draw(&demo("02-market-wagon.toml"), &arguments);
        assert_eq!(once, draw(&demo("02-market-wagon.toml"), &arguments));
        assert_eq!(once.0, 0);
    }
}

#[test]
fn an_order_that_stops_is_drawn_and_says_so_and_is_never_approved() {
    let stopped = std::fs::read_dir(demo("")).unwrap().map(|entry| entry.unwrap().path()).find(|path| {
        let mut check = Command::new(env!("CARGO_BIN_EXE_axlewright"));
        let output = check.arg("check").arg(path).output().unwrap();
        String::from_utf8(output.stdout).unwrap().contains("  STOP: ")
    });
    let (status, out, _) = draw(&stopped.unwrap(), &["--approved"]);
    assert_eq!(status, 0);
    assert!(out.contains("THIS MUST NOT BE MADE"));
    assert!(out.contains("NOT FOR MANUFACTURE"));
    let (_, sound, _) = draw(&demo("01-hay-truck.toml"), &["--approved"]);
    assert!(sound.contains("APPROVED FOR MANUFACTURE") && !sound.contains("NOT FOR MANUFACTURE"));
}

#[test]
fn an_order_with_next_to_nothing_is_drawn_and_says_what_is_not_known() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("short.toml");
    let text = "[order]\nreference = \"KB <&> \\\"1\\\"\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n\n[left]\n\
                overall_length = '31 5/16\"'\n";
    std::fs::write(&sheet, text).unwrap();
    for view in ["shaft", "flange", "housing", "pair"] {
        let (status, out, error) = draw(&sheet, &["--view", view]);
        assert_eq!((status, error.as_str()), (0, ""), "{view}");
        assert!(out.contains("NOT KNOWN"), "{view}");
        // What a person wrote cannot break the document.
        assert!(out.contains("KB &lt;&amp;&gt; &quot;1&quot;"), "{view}");
    }
    let (status, out, error) = draw(&sheet, &["--side", "right"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(error.contains("the order wants no shaft on that side\n  accepted: left"), "{error}");
}

#[test]
fn faults_are_placed_and_plain() {
    let sheet = demo("01-hay-truck.toml");
    let (status, out, error) = draw(&sheet, &["--out", "shaft.png"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(error.contains("shaft.png: the name of the file does not say which format is wanted"), "{error}");
    assert!(error.contains("accepted: a name that ends with .svg, .dxf or .step, or --format"), "{error}");

    let (status, _, error) = draw(&sheet, &["--out", "/no/such/folder/shaft.svg"]);
    assert_eq!(status, 2);
    assert!(error.contains("/no/such/folder/shaft.svg: there is no such folder"), "{error}");

    let (status, _, error) = draw(Path::new("absent.toml"), &[]);
    assert_eq!(status, 2);
    assert!(error.contains("absent.toml: there is no such file or folder"), "{error}");

    let (status, _, error) = draw(&sheet, &["--view", "shafts"]);
    assert_eq!(status, 2);
    assert!(error.contains("a similar value exists: 'shaft'"), "{error}");
}

#[test]
fn each_shaft_goes_to_a_step_file_of_its_own() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shaft.step");
    let named = file.to_str().unwrap();
    let dated = ["--out", named, "--date", "2026-11-25"];
    let (status, out, error) = draw(&demo("02-market-wagon.toml"), &dated);
    assert_eq!((status, error.as_str()), (0, ""));
    let mut texts = Vec::new();
    for side in ["left", "right"] {
        let path = folder.path().join(format!("shaft-{side}.step"));
        assert!(out.contains(&format!("{}: Axle shaft, Q-0102, {side} shaft\n", path.display())), "{out}");
        let text = std::fs::read_to_string(path).unwrap();
        assert!(text.starts_with("ISO-10303-21;\n") && text.ends_with("END-ISO-10303-21;\n") && text.is_ascii());
        assert!(text.contains(&format!("Q-0102 axle shaft {side}, spline as a cylinder: ")));
        // The order is in inches.
        assert!(text.contains("CONVERSION_BASED_UNIT('INCH'") && text.contains("'2026-11-25T00:00:00'"));
        texts.push(text);
    }
    assert_ne!(texts[0], texts[1]);

    // One side goes to the output, with the same bytes each time, and in the unit that is asked for.
    let left = ["--format", "step", "--side", "left", "--date", "2026-11-25"];
    let (status, out, error) = draw(&demo("02-market-wagon.toml"), &left);
    assert_eq!((status, error.as_str(), &out), (0, "", &texts[0]));
    let metric = [left.as_slice(), &["--units", "millimetre", "--teeth"]].concat();
    let (status, out, _) = draw(&demo("02-market-wagon.toml"), &metric);
    assert_eq!(status, 0);
    assert!(out.contains("lengths in millimetres") && !out.contains("CONVERSION_BASED_UNIT"));
    assert!(out.contains("spline with teeth: ") && out.contains("B_SPLINE_CURVE_WITH_KNOTS"));
}

#[test]
fn a_solid_without_a_size_is_refused_and_says_which_reading_would_give_it() {
    let (status, out, error) = draw(&demo("11-apiary-truck.toml"), &["--format", "step", "--side", "left"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(error.contains("nothing gives the wheel pilot diameter and the register diameter"), "{error}");
    assert!(
        error.contains("accepted: a reading of wheel_pilot_diameter or wheel_bore; a reading of register_diameter")
    );
}

#[test]
fn options_that_contradict_a_step_file_are_named() {
    let sheet = demo("01-hay-truck.toml");
    for (arguments, message) in [
        (
            &["--format", "step", "--view", "housing"][..],
            "--view: a STEP file holds the shaft itself and no view of it",
        ),
        (&["--format", "step", "--standard", "iso"], "--standard: a STEP file has no lines, lettering or projection"),
        (&["--format", "step", "--units", "dual"], "--units dual: the lengths of a STEP file have one unit"),
        (&["--format", "svg", "--teeth"], "--teeth: a sheet shows the spline by its outline and its table"),
        (&["--format", "step"], "the order wants both shafts, and a STEP file holds one"),
        (&["--format", "step", "--side", "left", "--date", "May"], "--date: that is no date for a STEP file"),
    ] {
        let (status, out, error) = draw(&sheet, arguments);
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}");
        assert!(error.contains(message) && error.contains("accepted: "), "{arguments:?}: {error}");
    }
    let (status, _, error) = draw(&sheet, &["--format", "step", "--view", "shaft", "--side", "right"]);
    assert_eq!((status, error.as_str()), (0, ""));
}
