//! Which papers there are.

/// A paper of an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// What is still to be measured, to be filled in by hand.
    MeasuringSheet,
    /// What will be made, for the customer to sign.
    Confirmation,
    /// The drawings, with balloons.
    ShopDrawing,
    /// The operations in order, with sign-off.
    Traveler,
    /// The form for the inspection of the finished shafts.
    InspectionReport,
    /// Material, hardness, crack detection.
    Certificate,
    /// Every part by its dimensions.
    PartsList,
    /// How the shafts are fitted, and the cautions.
    FittingSheet,
    /// The label of the crate.
    PackingLabel,
}

/// Every paper, in the order of the packet.
pub const PAPERS: [Paper; 9] = [
    Paper::MeasuringSheet,
    Paper::Confirmation,
    Paper::ShopDrawing,
    Paper::Traveler,
    Paper::InspectionReport,
    Paper::Certificate,
    Paper::PartsList,
    Paper::FittingSheet,
    Paper::PackingLabel,
];

impl Paper {
    /// Its name for programs, files and templates: `parts-list`.
    ///
    /// ```
    /// use paperwork::Paper;
    /// assert_eq!(Paper::PartsList.key(), "parts-list");
    /// assert_eq!(Paper::from_key("parts-list"), Some(Paper::PartsList));
    /// ```
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::MeasuringSheet => "measuring-sheet",
            Self::Confirmation => "confirmation",
            Self::ShopDrawing => "shop-drawing",
            Self::Traveler => "traveler",
            Self::InspectionReport => "inspection-report",
            Self::Certificate => "certificate",
            Self::PartsList => "parts-list",
            Self::FittingSheet => "fitting-sheet",
            Self::PackingLabel => "packing-label",
        }
    }

    /// The paper of that name.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        PAPERS.into_iter().find(|paper| paper.key() == key)
    }

    /// Its title.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::MeasuringSheet => "Measuring sheet",
            Self::Confirmation => "Confirmation of the order",
            Self::ShopDrawing => "Shop drawing",
            Self::Traveler => "Traveler",
            Self::InspectionReport => "Inspection report",
            Self::Certificate => "Certificate",
            Self::PartsList => "Parts list",
            Self::FittingSheet => "Fitting and cautions",
            Self::PackingLabel => "Packing label",
        }
    }
}
