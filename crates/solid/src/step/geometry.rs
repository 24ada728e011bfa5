//! Corners, edges and faces as entities of ISO 10303-42.

use super::entities::{Entities, list};
use super::text::{real, string};
use crate::shell::{Edge, Face, Flank, Path, Shell, Surface, Triple};

const UP: Triple = [0.0, 0.0, 1.0];
const DOWN: Triple = [0.0, 0.0, -1.0];
/// Where angles about the axis count from.
const SEAM: Triple = [1.0, 0.0, 0.0];

/// Adds a shell as one solid and returns the number of the solid.
pub(crate) fn solid(entities: &mut Entities, shell: &Shell, name: &str) -> usize {
    let corners: Vec<usize> = shell
        .corners
        .iter()
        .map(|place| {
            let point = entities.point(*place);
            entities.add(format!("VERTEX_POINT('',#{point})"))
        })
        .collect();
    let edges: Vec<usize> = shell.edges.iter().map(|one| edge(entities, one, &corners)).collect();
    let faces: Vec<usize> = shell.faces.iter().map(|one| face(entities, one, &edges)).collect();
    let closed = entities.add(format!("CLOSED_SHELL('',{})", list(&faces)));
    entities.add(format!("MANIFOLD_SOLID_BREP({},#{closed})", string(name)))
}

fn edge(entities: &mut Entities, edge: &Edge, corners: &[usize]) -> usize {
    let path = path(entities, &edge.path);
    entities.add(format!("EDGE_CURVE('',#{},#{},#{path},.T.)", corners[edge.from], corners[edge.to]))
}

fn face(entities: &mut Entities, face: &Face, edges: &[usize]) -> usize {
    let mut bounds = Vec::with_capacity(face.loops.len());
    for (place, sides) in face.loops.iter().enumerate() {
        let sides: Vec<usize> = sides
            .iter()
            .map(|side| {
                let forward = logical(side.forward);
                entities.add(format!("ORIENTED_EDGE('',*,*,#{},{forward})", edges[side.edge]))
            })
            .collect();
        let run = entities.add(format!("EDGE_LOOP('',{})", list(&sides)));
        let kind = if place == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
        bounds.push(entities.add(format!("{kind}('',#{run},.T.)")));
    }
    let surface = surface(entities, &face.surface);
    entities.add(format!("ADVANCED_FACE('',{},#{surface},{})", list(&bounds), logical(face.outward)))
}

fn path(entities: &mut Entities, path: &Path) -> usize {
    match path {
        Path::Line { point, direction } => {
            let (point, along) = (entities.point(*point), entities.vector(*direction));
            entities.share(format!("LINE('',#{point},#{along})"))
        }
        Path::Circle { centre, axis, zero, radius } => {
            let place = entities.placement(*centre, *axis, *zero);
            entities.share(format!("CIRCLE('',#{place},{})", entities.length(*radius)))
        }
        Path::Flank(curve) => flank(entities, curve),
    }
}

fn flank(entities: &mut Entities, flank: &Flank) -> usize {
    let poles: Vec<usize> = flank.poles.iter().map(|pole| entities.point(*pole)).collect();
    let last = flank.knots.len() - 1;
    let knots: Vec<String> = flank.knots.iter().map(|knot| real(*knot)).collect();
    let times: Vec<&str> = (0..=last).map(|place| if place == 0 || place == last { "4" } else { "2" }).collect();
    entities.share(format!(
        "B_SPLINE_CURVE_WITH_KNOTS('',3,{},.UNSPECIFIED.,.F.,.F.,({}),({}),.UNSPECIFIED.)",
        list(&poles),
        times.join(","),
        knots.join(",")
    ))
}

fn surface(entities: &mut Entities, surface: &Surface) -> usize {
    match surface {
        Surface::Plane { point, normal } => {
            let place = entities.placement(*point, *normal, SEAM);
            entities.share(format!("PLANE('',#{place})"))
        }
        Surface::Cylinder { point, radius } => {
            let place = entities.placement(*point, UP, SEAM);
            entities.share(format!("CYLINDRICAL_SURFACE('',#{place},{})", entities.length(*radius)))
        }
        Surface::Cone { point, widens_upward, radius, half_angle } => {
            let place = entities.placement(*point, if *widens_upward { UP } else { DOWN }, SEAM);
            entities.share(format!("CONICAL_SURFACE('',#{place},{},{})", entities.length(*radius), real(*half_angle)))
        }
        Surface::Sphere { centre, radius } => {
            let place = entities.placement(*centre, UP, SEAM);
            entities.share(format!("SPHERICAL_SURFACE('',#{place},{})", entities.length(*radius)))
        }
        Surface::Torus { centre, major_radius, minor_radius } => {
            let place = entities.placement(*centre, UP, SEAM);
            let (major, minor) = (entities.length(*major_radius), entities.length(*minor_radius));
            entities.share(format!("TOROIDAL_SURFACE('',#{place},{major},{minor})"))
        }
        Surface::Turned { circle } => {
            let curve = path(entities, circle);
            let (point, axis) = (entities.point([0.0; 3]), entities.direction(UP));
            let axis = entities.share(format!("AXIS1_PLACEMENT('',#{point},#{axis})"));
            entities.share(format!("SURFACE_OF_REVOLUTION('',#{curve},#{axis})"))
        }
        Surface::Moved { flank: curve } => {
            let (curve, along) = (flank(entities, curve), entities.vector(UP));
            entities.share(format!("SURFACE_OF_LINEAR_EXTRUSION('',#{curve},#{along})"))
        }
    }
}

fn logical(truth: bool) -> &'static str {
    if truth { ".T." } else { ".F." }
}
