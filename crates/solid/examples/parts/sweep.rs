//! Several hundred parts in fixed steps: every count of teeth from 28 to 40 at three pressure angles with each way in which
//! the body meets them, and shafts with each count of holes.

use solid::RevolvedPart;

use crate::shaft::{Inch, Shaft};

/// All of them, by name.
pub fn parts() -> Vec<(String, RevolvedPart)> {
    let mut parts = Vec::new();
    for (degrees, angle) in [("30", 30.0), ("37_5", 37.5), ("45", 45.0)] {
        for teeth in 28..=40 {
            let spline = Inch { teeth, pressure_angle_deg: angle };
            let (root, tip) = (spline.root_radius(), spline.tip_radius());
            let bodies =
                [("below", root - 0.7), ("root", root), ("quarter", root + 0.25 * (tip - root)), ("most", tip - 0.002)];
            for (place, body_radius) in bodies {
                let shaft =
                    Shaft { overall_length: 795.3, holes: 5, access_hole: true, spline, teeth: true, body_radius };
                parts.push((format!("teeth_{teeth}_{degrees}_{place}"), shaft.part()));
            }
        }
    }
    for holes in 1..=12 {
        for (place, length) in [300.0, 795.3, 1400.0].into_iter().enumerate() {
            let spline = Inch { teeth: 31, pressure_angle_deg: 30.0 };
            let body_radius = spline.root_radius() - 0.5;
            let shaft = Shaft {
                overall_length: length,
                holes,
                access_hole: (3..7).contains(&holes),
                spline,
                teeth: false,
                body_radius,
            };
            parts.push((format!("holes_{holes}_{place}"), shaft.part()));
        }
    }
    parts
}
