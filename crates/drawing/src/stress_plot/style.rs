//! How a load case looks: by colour, by dashes and by the shape of its marks, so that no colour has to be told apart.

use axle::LoadCase;

/// The look of one load case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Its class in the style sheet, which is also its key on the wire.
    pub class: &'static str,
    /// The mark of its sections, about a point.
    pub mark: &'static str,
}

/// The look of a load case.
pub fn look(case: LoadCase) -> Look {
    let (class, mark) = match case {
        LoadCase::Straight => ("straight", "M-3.4 0A3.4 3.4 0 1 0 3.4 0A3.4 3.4 0 1 0-3.4 0Z"),
        LoadCase::Launch => ("launch", "M-3.6 0A3.6 3.6 0 1 0 3.6 0A3.6 3.6 0 1 0-3.6 0Z"),
        LoadCase::Braking => ("braking", "M-3.4-3.4L3.4 3.4M-3.4 3.4L3.4-3.4"),
        LoadCase::CornerOuter => ("corner_outer", "M0-4.4L4.2 3.2L-4.2 3.2Z"),
        LoadCase::CornerInner => ("corner_inner", "M0 4.4L4.2-3.2L-4.2-3.2Z"),
        LoadCase::Bump => ("bump", "M-3.2-3.2L3.2-3.2L3.2 3.2L-3.2 3.2Z"),
        LoadCase::Towing => ("towing", "M0-4.8L4.2 0L0 4.8L-4.2 0Z"),
    };
    Look { class, mark }
}

/// Heights of type, as the style sheet has them.
pub const TITLE: f64 = 18.0;
/// Of names and numbers.
pub const LABEL: f64 = 12.5;
/// Of what explains.
pub const SMALL: f64 = 11.5;

/// The style sheet. Colours stand in it twice, for light and for dark surroundings.
pub const STYLE: &str = "\
text{font-family:Helvetica,Arial,'Liberation Sans',sans-serif;fill:#1f2328;font-variant-numeric:tabular-nums}
.title{font-size:18px;font-weight:bold}
.label{font-size:12.5px}
.strong{font-size:12.5px;font-weight:bold}
.small{font-size:11.5px;fill:#57606a}
.paper{fill:#ffffff}
.frame{fill:none;stroke:#57606a;stroke-width:1}
.grid{stroke:#d0d7de;stroke-width:.7}
.station{stroke:#8c959f;stroke-width:.7;stroke-dasharray:1 3}
.leader{stroke:#8c959f;stroke-width:.8}
.shaft{fill:#eaeef2;stroke:#1f2328;stroke-width:1.3;stroke-linejoin:round}
.edge{stroke:#1f2328;stroke-width:1}
.axis{stroke:#8c959f;stroke-width:.8;stroke-dasharray:14 3 3 3}
.break{fill:none;stroke:#57606a;stroke-width:1}
.gap{stroke:#ffffff;stroke-width:5}
.band{fill:#8c959f;fill-opacity:.2;stroke:none}
.mild{fill:none;stroke:#57606a;stroke-width:1;stroke-dasharray:1.5 2.5}
.least{stroke:#1f2328;stroke-width:2.2}
.curve{fill:none;stroke-width:1.9;stroke-linejoin:round}
.mark{stroke-width:1.5;stroke-linejoin:round}
.straight{stroke:#57606a;fill:#ffffff}
.launch{stroke:#bc4c00;fill:#bc4c00}
.braking{stroke:#8250df;fill:none}
.corner_outer{stroke:#b00b23;fill:#b00b23}
.corner_inner{stroke:#0757b8;fill:#ffffff}
.bump{stroke:#12692d;fill:#12692d}
.towing{stroke:#a40e7c;fill:#ffffff}
.curve.straight,.curve.launch,.curve.braking,.curve.corner_outer,.curve.corner_inner,.curve.bump,.curve.towing{fill:none}
.curve.braking{stroke-dasharray:2 3}
.curve.corner_outer{stroke-dasharray:9 3}
.curve.corner_inner{stroke-dasharray:9 3 2 3}
.curve.bump{stroke-dasharray:4 3}
.curve.towing{stroke-dasharray:12 3 2 3 2 3}
@media (prefers-color-scheme:dark){
text{fill:#e6edf3}
.small{fill:#9da7b3}
.paper{fill:#0d1117}
.frame{stroke:#9da7b3}
.grid{stroke:#30363d}
.station,.leader,.axis{stroke:#6e7681}
.shaft{fill:#21262d;stroke:#e6edf3}
.edge{stroke:#e6edf3}
.break{stroke:#9da7b3}
.gap{stroke:#0d1117}
.band{fill:#9da7b3;fill-opacity:.22}
.mild{stroke:#9da7b3}
.least{stroke:#e6edf3}
.straight{stroke:#9da7b3;fill:#0d1117}
.launch{stroke:#ffa657;fill:#ffa657}
.braking{stroke:#c297ff;fill:none}
.corner_outer{stroke:#ff7b72;fill:#ff7b72}
.corner_inner{stroke:#79c0ff;fill:#0d1117}
.bump{stroke:#56d364;fill:#56d364}
.towing{stroke:#ff9bce;fill:#0d1117}
}";
