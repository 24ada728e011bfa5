//! The text of a STEP file holds together: ISO 10303-21 as far as it can be told without the schema.

#![allow(clippy::unwrap_used, reason = "a file that cannot be taken apart must fail")]

#[path = "../examples/parts/named.rs"]
mod named;
#[path = "../examples/parts/shaft.rs"]
mod shaft;

use solid::{FLANK_TOLERANCE_MM, Flank, Solid, StepHeader, StepUnit, Surface};

const HEADER: StepHeader<'static> = StepHeader {
    name: "Ø165 'left' \\ 軸",
    time_stamp: "2026-01-31T08:30:00+01:00",
    author: "A. Turner",
    organisation: "",
    written_by: "a test",
    id: "",
    notes: &[],
    unit: StepUnit::Millimetre,
};

/// Numbers of other entities that an entity refers to, outside of strings.
fn references(entity: &str) -> Vec<usize> {
    let mut found = Vec::new();
    let plain: String = entity.split('\'').step_by(2).collect();
    for piece in plain.split('#').skip(1) {
        let digits: String = piece.chars().take_while(char::is_ascii_digit).collect();
        found.push(digits.parse().unwrap());
    }
    found
}

#[test]
fn a_file_in_inches_says_so_and_holds_lengths_over_25_4() {
    let (_, part) = named::parts().remove(0);
    let solid = Solid::new(&part).unwrap();
    let text = solid.to_step(&StepHeader { unit: StepUnit::Inch, ..HEADER }).unwrap();
    assert!(text.contains("FILE_DESCRIPTION(('One turned part; lengths in inches'),'2;1');"));
    assert!(text.contains("LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#"));
    assert!(text.contains("(CONVERSION_BASED_UNIT('INCH',#"));
    let radii = |text: &str| -> Vec<f64> {
        let lines = text.lines().filter(|line| line.contains("CYLINDRICAL_SURFACE"));
        lines.map(|line| line.trim_end_matches(");").rsplit(',').next().unwrap().parse().unwrap()).collect()
    };
    let (inches, millimetres) = (radii(&text), radii(&solid.to_step(&HEADER).unwrap()));
    assert!(!inches.is_empty() && inches.len() == millimetres.len());
    assert!(inches.iter().zip(&millimetres).all(|(one, other)| (one * 25.4 - other).abs() < 1e-12));
}

#[test]
fn notes_stand_in_the_description_and_the_id_in_the_product() {
    let (_, part) = named::parts().remove(0);
    let long = "x".repeat(300);
    let notes = ["It's assumed.", long.as_str()];
    let header = StepHeader { id: "B-1-left", notes: &notes, ..HEADER };
    let text = Solid::new(&part).unwrap().to_step(&header).unwrap();
    // A string of a description holds 256 letters at most.
    let expected = format!(
        "FILE_DESCRIPTION(('One turned part; lengths in millimetres','It''s assumed.','{}','{}'),'2;1');",
        "x".repeat(256),
        "x".repeat(44)
    );
    assert!(text.contains(&expected));
    assert!(text.contains("=PRODUCT('B-1-left',"));
    assert!(text.contains(&format!("'It''s assumed. {long}'")));
}

#[test]
fn every_entity_refers_back_and_is_referred_to() {
    for (name, part) in named::parts() {
        let text = Solid::new(&part).unwrap().to_step(&HEADER).unwrap();
        assert!(text.is_ascii(), "{name}");
        let data = text.split_once("DATA;\n").unwrap().1.split_once("ENDSEC;\n").unwrap();
        assert_eq!(data.1, "END-ISO-10303-21;\n");
        let mut used = vec![false];
        let mut roots = Vec::new();
        for line in data.0.lines() {
            let (number, entity) = line.strip_prefix('#').unwrap().split_once('=').unwrap();
            let number: usize = number.parse().unwrap();
            assert_eq!(number, used.len(), "{name}: {line}");
            assert!(entity.ends_with(';') && !entity[..entity.len() - 1].contains(';'), "{name}: {line}");
            for reference in references(entity) {
                assert!(reference < number, "{name}: {line} refers ahead");
                used[reference] = true;
            }
            used.push(false);
            roots.push(entity.split('(').next().unwrap());
        }
        let unused: Vec<&str> =
            (1..used.len()).filter(|number| !used[*number]).map(|number| roots[number - 1]).collect();
        // These three stand at the top and are read for their own sake.
        assert_eq!(
            unused,
            ["APPLICATION_PROTOCOL_DEFINITION", "PRODUCT_RELATED_PRODUCT_CATEGORY", "SHAPE_DEFINITION_REPRESENTATION"],
            "{name}"
        );
    }
}

#[test]
fn the_head_says_what_it_was_told() {
    let (_, part) = named::parts().remove(0);
    let text = Solid::new(&part).unwrap().to_step(&HEADER).unwrap();
    let name = "'\\X2\\00D8\\X0\\165 ''left'' \\\\ \\X2\\8EF8\\X0\\'";
    let expected = format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('One turned part; lengths in millimetres'),'2;1');\n\
         FILE_NAME({name},'2026-01-31T08:30:00+01:00',('A. Turner'),(''),'a test','a test','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n"
    );
    assert!(text.starts_with(&expected), "{}", &text[..expected.len()]);
    assert!(text.contains(&format!("=PRODUCT({name},{name},'',(#")));
    assert!(text.contains("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))"));
}

/// Points of a flank at equal steps of each of its pieces, by de Casteljau.
fn points(flank: &Flank) -> Vec<[f64; 2]> {
    let pieces = flank.knots.len() - 1;
    let mix = |a: [f64; 3], b: [f64; 3], share: f64| [0, 1, 2].map(|axis| a[axis] + share * (b[axis] - a[axis]));
    let joint = |place: usize| {
        if place == 0 {
            return flank.poles[0];
        }
        if place == pieces {
            return flank.poles[flank.poles.len() - 1];
        }
        let share = (flank.knots[place] - flank.knots[place - 1]) / (flank.knots[place + 1] - flank.knots[place - 1]);
        mix(flank.poles[2 * place], flank.poles[2 * place + 1], share)
    };
    let mut found = Vec::new();
    for piece in 0..pieces {
        let mut control = vec![joint(piece), flank.poles[2 * piece + 1], flank.poles[2 * piece + 2], joint(piece + 1)];
        for step in 0..=64 {
            let share = f64::from(step) / 64.0;
            let mut level = std::mem::take(&mut control);
            control.clone_from(&level);
            while level.len() > 1 {
                level = level.windows(2).map(|pair| mix(pair[0], pair[1], share)).collect();
            }
            found.push([level[0][0], level[0][1]]);
        }
    }
    found
}

#[test]
fn flanks_lie_within_their_tolerance_of_the_involute() {
    let mut worst: f64 = 0.0;
    let mut flanks = 0;
    for (_, part) in named::parts().into_iter().filter(|(_, part)| !part.splines.is_empty()) {
        let spline = part.splines[0];
        let angle = spline.pressure_angle_deg.to_radians();
        let base = spline.pitch_diameter_mm / 2.0 * angle.cos();
        let half_at_base = spline.tooth_thickness_mm / spline.pitch_diameter_mm + angle.tan() - angle;
        let pitch = std::f64::consts::TAU / f64::from(spline.teeth);
        for face in Solid::new(&part).unwrap().shell().faces {
            let Surface::Moved { flank } = face.surface else {
                continue;
            };
            flanks += 1;
            for [x, y] in points(&flank) {
                let u = ((x.hypot(y) / base).powi(2) - 1.0).max(0.0).sqrt();
                let turned = y.atan2(x);
                let from_middle = (turned - pitch * (turned / pitch).round()).abs();
                // Involutes of one circle lie apart by the arc between their beginnings, all along.
                worst = worst.max(base * (from_middle + u - u.atan() - half_at_base).abs());
            }
        }
    }
    println!("{flanks} flanks, at most {worst:.1e} mm off");
    assert_eq!(flanks, 2 * (28 + 35 + 40 + 8 * 6));
    assert!(worst <= FLANK_TOLERANCE_MM);
}
