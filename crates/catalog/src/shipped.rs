//! The catalog that comes with the program, and a shop's own on top of it.

use placed::Faults;

use crate::Catalog;
use crate::load::load;

/// What a file of the catalog is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum File {
    Instruments,
    Measurands,
    Mistakes,
    Bearings,
    HousingEnds,
    Splines,
    BoltCircles,
    Studs,
    Brakes,
    Differentials,
    Steels,
    Inquiries,
    Loads,
    Settings,
}

/// The shipped files: topic, name and text.
pub(crate) const FILES: [(File, &str, &str); 14] = [
    (File::Instruments, "instruments.toml", include_str!("../../../catalog/instruments.toml")),
    (File::Measurands, "measurands.toml", include_str!("../../../catalog/measurands.toml")),
    (File::Mistakes, "mistakes.toml", include_str!("../../../catalog/mistakes.toml")),
    (File::Bearings, "bearings.toml", include_str!("../../../catalog/bearings.toml")),
    (File::HousingEnds, "housing_ends.toml", include_str!("../../../catalog/housing_ends.toml")),
    (File::Splines, "splines.toml", include_str!("../../../catalog/splines.toml")),
    (File::BoltCircles, "bolt_circles.toml", include_str!("../../../catalog/bolt_circles.toml")),
    (File::Studs, "studs.toml", include_str!("../../../catalog/studs.toml")),
    (File::Brakes, "brakes.toml", include_str!("../../../catalog/brakes.toml")),
    (File::Differentials, "differentials.toml", include_str!("../../../catalog/differentials.toml")),
    (File::Steels, "steels.toml", include_str!("../../../catalog/steels.toml")),
    (File::Inquiries, "inquiries.toml", include_str!("../../../catalog/inquiries.toml")),
    (File::Loads, "loads.toml", include_str!("../../../catalog/loads.toml")),
    (File::Settings, "settings.toml", include_str!("../../../catalog/settings.toml")),
];

/// The shipped files as they are written, each with its name, in the order in which they are read.
///
/// ```
/// let studs = catalog::shipped_texts().find(|(name, _)| *name == "studs.toml").unwrap().1;
/// assert!(studs.starts_with("# Press-in wheel studs."));
/// ```
pub fn shipped_texts() -> impl Iterator<Item = (&'static str, &'static str)> {
    FILES.iter().map(|(_, name, text)| (*name, *text))
}

/// The files of a shop's folder that are learned from finished orders; none is shipped. Each holds rows of its topic as the
/// shop's own file does, and stands on top of it.
pub(crate) const LEARNED_FILES: [(File, &str); 3] = [
    (File::Instruments, "learned_instruments.toml"),
    (File::Measurands, "learned_measurands.toml"),
    (File::Mistakes, "learned_mistakes.toml"),
];

impl Catalog {
    /// The catalog that comes with the program. A test holds that it has no fault.
    ///
    /// # Errors
    ///
    /// The faults of the shipped files, if a build ever carried one.
    ///
    /// ```
    /// use catalog::{Catalog, Measurand};
    ///
    /// let catalog = Catalog::shipped()?;
    /// assert_eq!(catalog.measurand(Measurand::BrakeOffset).words, "brake offset");
    /// # Ok::<(), placed::Faults>(())
    /// ```
    pub fn shipped() -> Result<Self, Faults> {
        load(&[], &[])
    }

    /// The shipped catalog with a shop's own files on top: name and text of each, in the order in which they apply.
    ///
    /// A file extends the shipped file of the same name (only the last part of a path counts). `learned_instruments.toml`,
    /// `learned_measurands.toml` and `learned_mistakes.toml` extend their topics last of all. A row whose name the
    /// catalog does not hold yet is added and must be whole. A row whose name it holds changes that row: the keys that it
    /// gives replace the old ones, the others stay. `source` is asked for again, because the old source does not vouch for
    /// the new value. `remove = true` takes a row out.
    ///
    /// # Errors
    ///
    /// Every fault in every file at once, each with its place and what would be accepted.
    ///
    /// ```
    /// use catalog::Catalog;
    ///
    /// let own = r#"
    /// [[differential]]
    /// name = "open"
    /// half_pin = { mean = '0.344"', deviation = '0.002"' }
    /// source = "shop: measured on the bench"
    /// "#;
    /// let catalog = Catalog::with_folder(&[("differentials.toml".to_owned(), own.to_owned())])?;
    /// assert_eq!(catalog.differential("open").unwrap().half_pin.mean, quantity::inches(0.344));
    /// # Ok::<(), placed::Faults>(())
    /// ```
    pub fn with_folder(files: &[(String, String)]) -> Result<Self, Faults> {
        load(&[], files)
    }

    /// The catalog as it once was: the shipped files as somebody kept them ([`shipped_texts`]), a shop's own on top. A shipped
    /// file that is not among those kept is the one of this program.
    ///
    /// # Errors
    ///
    /// As for [`Catalog::with_folder`]; what was kept may also lack what this program needs.
    ///
    /// ```
    /// use catalog::{Catalog, shipped_texts};
    ///
    /// let kept = |(name, text): (&str, &str)| (name.to_owned(), text.replace("[[inquiry]]", "[[former_inquiry]]"));
    /// let kept: Vec<(String, String)> = shipped_texts().map(kept).collect();
    /// assert!(Catalog::as_kept(&kept, &[]).unwrap_err().to_string().contains("former_inquiry"));
    /// assert!(Catalog::as_kept(&[], &[]).is_ok());
    /// # Ok::<(), placed::Faults>(())
    /// ```
    pub fn as_kept(shipped: &[(String, String)], own: &[(String, String)]) -> Result<Self, Faults> {
        load(shipped, own)
    }
}
