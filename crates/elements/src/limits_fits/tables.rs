//! The printed values of ISO 286-1:2010. Sizes in millimetres, deviations in micrometres.
//!
//! Each number was checked against a public transcription: those that the two packages hold by the
//! recipe in `validation/limits_fits`, IT1 to IT18, `a` to `d` and `r` to `zc` by eye against one
//! of DIN EN ISO 286. From memory, check: IT01, IT0, `ef`, `fg`, `j` and `J` up to 3 mm and over
//! 400 mm.

use super::{FitError, LARGEST_SIZE_MM};

/// Upper ends of the main steps; a size on an end belongs to the step that it closes.
const MAIN_STEPS_MM: [f64; 13] =
    [3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0, 400.0, LARGEST_SIZE_MM];

/// Upper ends of the intermediate steps, by which `a` to `c` and `r` to `zc` go.
const FINE_STEPS_MM: [f64; 25] = [
    3.0,
    6.0,
    10.0,
    14.0,
    18.0,
    24.0,
    30.0,
    40.0,
    50.0,
    65.0,
    80.0,
    100.0,
    120.0,
    140.0,
    160.0,
    180.0,
    200.0,
    225.0,
    250.0,
    280.0,
    315.0,
    355.0,
    400.0,
    450.0,
    LARGEST_SIZE_MM,
];

/// IT01, IT0, IT1 to IT18 by main step.
pub(super) const TOLERANCES_UM: [[f64; 13]; 20] = [
    [0.3, 0.4, 0.4, 0.5, 0.6, 0.6, 0.8, 1.0, 1.2, 2.0, 2.5, 3.0, 4.0],
    [0.5, 0.6, 0.6, 0.8, 1.0, 1.0, 1.2, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0],
    [0.8, 1.0, 1.0, 1.2, 1.5, 1.5, 2.0, 2.5, 3.5, 4.5, 6.0, 7.0, 8.0],
    [1.2, 1.5, 1.5, 2.0, 2.5, 2.5, 3.0, 4.0, 5.0, 7.0, 8.0, 9.0, 10.0],
    [2.0, 2.5, 2.5, 3.0, 4.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 13.0, 15.0],
    [3.0, 4.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0],
    [4.0, 5.0, 6.0, 8.0, 9.0, 11.0, 13.0, 15.0, 18.0, 20.0, 23.0, 25.0, 27.0],
    [6.0, 8.0, 9.0, 11.0, 13.0, 16.0, 19.0, 22.0, 25.0, 29.0, 32.0, 36.0, 40.0],
    [10.0, 12.0, 15.0, 18.0, 21.0, 25.0, 30.0, 35.0, 40.0, 46.0, 52.0, 57.0, 63.0],
    [14.0, 18.0, 22.0, 27.0, 33.0, 39.0, 46.0, 54.0, 63.0, 72.0, 81.0, 89.0, 97.0],
    [25.0, 30.0, 36.0, 43.0, 52.0, 62.0, 74.0, 87.0, 100.0, 115.0, 130.0, 140.0, 155.0],
    [40.0, 48.0, 58.0, 70.0, 84.0, 100.0, 120.0, 140.0, 160.0, 185.0, 210.0, 230.0, 250.0],
    [60.0, 75.0, 90.0, 110.0, 130.0, 160.0, 190.0, 220.0, 250.0, 290.0, 320.0, 360.0, 400.0],
    [100.0, 120.0, 150.0, 180.0, 210.0, 250.0, 300.0, 350.0, 400.0, 460.0, 520.0, 570.0, 630.0],
    [140.0, 180.0, 220.0, 270.0, 330.0, 390.0, 460.0, 540.0, 630.0, 720.0, 810.0, 890.0, 970.0],
    [250.0, 300.0, 360.0, 430.0, 520.0, 620.0, 740.0, 870.0, 1000.0, 1150.0, 1300.0, 1400.0, 1550.0],
    [400.0, 480.0, 580.0, 700.0, 840.0, 1000.0, 1200.0, 1400.0, 1600.0, 1850.0, 2100.0, 2300.0, 2500.0],
    [600.0, 750.0, 900.0, 1100.0, 1300.0, 1600.0, 1900.0, 2200.0, 2500.0, 2900.0, 3200.0, 3600.0, 4000.0],
    [1000.0, 1200.0, 1500.0, 1800.0, 2100.0, 2500.0, 3000.0, 3500.0, 4000.0, 4600.0, 5200.0, 5700.0, 6300.0],
    [1400.0, 1800.0, 2200.0, 2700.0, 3300.0, 3900.0, 4600.0, 5400.0, 6300.0, 7200.0, 8100.0, 8900.0, 9700.0],
];

/// Fundamental deviations of shafts as magnitudes by main step: `d` to `g` lie below the nominal
/// size, `k` to `p` above it.
pub(super) mod main {
    pub(in super::super) const D: [u16; 13] = [20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230];
    pub(in super::super) const E: [u16; 13] = [14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135];
    pub(in super::super) const F: [u16; 13] = [6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68];
    pub(in super::super) const G: [u16; 13] = [2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20];
    /// Grades 4 to 7; zero in every other.
    pub(in super::super) const K: [u16; 13] = [0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5];
    pub(in super::super) const M: [u16; 13] = [2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23];
    pub(in super::super) const N: [u16; 13] = [4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40];
    pub(in super::super) const P: [u16; 13] = [6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68];

    /// Lower deviation of `j5` and `j6`, below the nominal size.
    pub(in super::super) const J5_J6: [u16; 13] = [2, 2, 2, 3, 4, 5, 7, 9, 11, 13, 16, 18, 20];
    /// Lower deviation of `j7`, below the nominal size.
    pub(in super::super) const J7: [u16; 13] = [4, 4, 5, 6, 8, 10, 12, 15, 18, 21, 26, 28, 32];
    /// Upper deviations of the holes `J6`, `J7` and `J8`.
    pub(in super::super) const HOLE_J6: [u16; 13] = [2, 5, 5, 6, 8, 10, 13, 16, 18, 22, 25, 29, 33];
    pub(in super::super) const HOLE_J7: [u16; 13] = [4, 6, 8, 10, 12, 14, 18, 22, 26, 30, 36, 39, 43];
    pub(in super::super) const HOLE_J8: [u16; 13] = [6, 10, 12, 15, 20, 24, 28, 34, 41, 47, 55, 60, 66];
}

/// Fundamental deviations of shafts as magnitudes by intermediate step: `a` to `c` lie below the
/// nominal size, `r` to `zc` above it. Zero stands for "not defined at this size".
pub(super) mod fine {
    pub(in super::super) const A: [u16; 25] = [
        270, 270, 280, 290, 290, 300, 300, 310, 320, 340, 360, 380, 410, 460, 520, 580, 660, 740, 820, 920, 1050, 1200,
        1350, 1500, 1650,
    ];
    pub(in super::super) const B: [u16; 25] = [
        140, 140, 150, 150, 150, 160, 160, 170, 180, 190, 200, 220, 240, 260, 280, 310, 340, 380, 420, 480, 540, 600,
        680, 760, 840,
    ];
    pub(in super::super) const C: [u16; 25] = [
        60, 70, 80, 95, 95, 110, 110, 120, 130, 140, 150, 170, 180, 200, 210, 230, 240, 260, 280, 300, 330, 360, 400,
        440, 480,
    ];
    pub(in super::super) const R: [u16; 25] =
        [10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132];
    pub(in super::super) const S: [u16; 25] =
        [14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252];
    pub(in super::super) const T: [u16; 25] =
        [0, 0, 0, 0, 0, 0, 41, 48, 54, 66, 75, 91, 104, 122, 134, 146, 166, 180, 196, 218, 240, 268, 294, 330, 360];
    pub(in super::super) const U: [u16; 25] = [
        18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315, 350, 390, 435, 490,
        540,
    ];
    pub(in super::super) const V: [u16; 25] = [
        0, 0, 0, 0, 39, 47, 55, 68, 81, 102, 120, 146, 172, 202, 228, 252, 284, 310, 340, 385, 425, 475, 530, 595, 660,
    ];
    pub(in super::super) const X: [u16; 25] = [
        20, 28, 34, 40, 45, 54, 64, 80, 97, 122, 146, 178, 210, 248, 280, 310, 350, 385, 425, 475, 525, 590, 660, 740,
        820,
    ];
    pub(in super::super) const Y: [u16; 25] = [
        0, 0, 0, 0, 0, 63, 75, 94, 114, 144, 174, 214, 254, 300, 340, 380, 425, 470, 520, 580, 650, 730, 820, 920, 1000,
    ];
    pub(in super::super) const Z: [u16; 25] = [
        26, 35, 42, 50, 60, 73, 88, 112, 136, 172, 210, 258, 310, 365, 415, 465, 520, 575, 640, 710, 790, 900, 1000,
        1100, 1250,
    ];
    pub(in super::super) const ZA: [u16; 25] = [
        32, 42, 52, 64, 77, 98, 118, 148, 180, 226, 274, 335, 400, 470, 535, 600, 670, 740, 820, 920, 1000, 1150, 1300,
        1450, 1600,
    ];
    pub(in super::super) const ZB: [u16; 25] = [
        40, 50, 67, 90, 108, 136, 160, 200, 242, 300, 360, 445, 525, 620, 700, 780, 880, 960, 1050, 1200, 1300, 1500,
        1650, 1850, 2100,
    ];
    pub(in super::super) const ZC: [u16; 25] = [
        60, 80, 97, 130, 150, 188, 218, 274, 325, 405, 480, 585, 690, 800, 900, 1000, 1150, 1250, 1350, 1550, 1700,
        1900, 2100, 2400, 2600,
    ];
}

/// `cd`, `ef` and `fg` for the steps up to 3, 6 and 10 mm, the only ones they have.
pub(super) const CD: [u16; 3] = [34, 46, 56];
pub(super) const EF: [u16; 3] = [10, 14, 18];
pub(super) const FG: [u16; 3] = [4, 6, 8];

/// Index of the main step that holds a size.
pub(super) fn main_step(size_mm: f64) -> Result<usize, FitError> {
    step(size_mm, &MAIN_STEPS_MM)
}

/// Index of the intermediate step that holds a size.
pub(super) fn fine_step(size_mm: f64) -> Result<usize, FitError> {
    step(size_mm, &FINE_STEPS_MM)
}

fn step(size_mm: f64, ends_mm: &[f64]) -> Result<usize, FitError> {
    if size_mm > 0.0
        && let Some(step) = ends_mm.iter().position(|&end_mm| size_mm <= end_mm)
    {
        return Ok(step);
    }
    Err(FitError::Size { size_mm })
}
