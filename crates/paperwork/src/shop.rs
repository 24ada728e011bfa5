//! The shop whose papers they are: its `shop.toml`, its logo, its own templates.

use drawing::Units;
use placed::{Document, Faults, Item, TableReader};

use crate::job::PageSize;

/// The pages that a shop prints on, by the words of its `shop.toml`.
pub const PAGE_SIZES: [(&str, PageSize); 2] = [("letter", PageSize::Letter), ("A4", PageSize::A4)];

/// The units that a shop wants on its papers, by the words of its `shop.toml`.
pub const PAPER_UNITS: [(&str, PaperUnits); 3] =
    [("inch", PaperUnits::Inch), ("millimetre", PaperUnits::Millimetre), ("both", PaperUnits::Both)];

/// Which units a shop wants on its papers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperUnits {
    /// Inches, whatever the order was taken in.
    Inch,
    /// Millimetres, whatever the order was taken in.
    Millimetre,
    /// Both, those of the order first.
    Both,
}

/// What a shop's `shop.toml` says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ShopDetails {
    /// Its name.
    pub name: String,
    /// Its address, line by line.
    pub address: Vec<String>,
    /// How it is reached: telephone, mail.
    pub contact: Vec<String>,
    /// The file of its logo in its folder: SVG, PNG or JPEG.
    pub logo: Option<String>,
    /// Its terms, one sentence or short paragraph each.
    pub terms: Vec<String>,
    /// The pages that it prints on; without it, those that go with the unit of the order.
    pub page_size: Option<PageSize>,
    /// The units of its papers; without it, those of the order.
    pub units: Option<PaperUnits>,
}

impl ShopDetails {
    /// The pages for an order whose leading unit is the inch, or is not.
    ///
    /// ```
    /// use paperwork::{PageSize, read_shop};
    /// let shop = read_shop("shop.toml", "name = \"Weir Shafts\"\npage_size = \"A4\"\n")?;
    /// assert_eq!(shop.page_size_for(true), PageSize::A4);
    /// # Ok::<(), placed::Faults>(())
    /// ```
    #[must_use]
    pub fn page_size_for(&self, inches_lead: bool) -> PageSize {
        self.page_size.unwrap_or(if inches_lead { PageSize::Letter } else { PageSize::A4 })
    }

    /// The units for such an order.
    #[must_use]
    pub fn units_for(&self, inches_lead: bool) -> Units {
        match self.units {
            Some(PaperUnits::Inch) => Units::Inch,
            Some(PaperUnits::Millimetre) => Units::Millimetre,
            Some(PaperUnits::Both) => Units::Dual { inches_first: inches_lead },
            None if inches_lead => Units::Inch,
            None => Units::Millimetre,
        }
    }
}

/// A shop with everything from its folder.
#[derive(Debug, Clone, Default)]
pub struct Shop {
    /// What its `shop.toml` says.
    pub details: ShopDetails,
    /// Its logo.
    pub logo: Option<Logo>,
    /// Its own templates: the name of the file without a folder, and the text.
    pub templates: Vec<(String, String)>,
}

/// A logo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Logo {
    /// Its format.
    pub kind: LogoKind,
    /// The file.
    pub bytes: Vec<u8>,
}

/// The formats of a logo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum LogoKind {
    Svg,
    Png,
    Jpeg,
}

impl LogoKind {
    /// The format that the name of a file ends with.
    ///
    /// ```
    /// use paperwork::LogoKind;
    /// assert_eq!(LogoKind::of_file("logo.SVG"), Some(LogoKind::Svg));
    /// assert_eq!(LogoKind::of_file("logo.tiff"), None);
    /// ```
    #[must_use]
    pub fn of_file(name: &str) -> Option<Self> {
        match name.rsplit_once('.')?.1.to_lowercase().as_str() {
            "svg" => Some(Self::Svg),
            "png" => Some(Self::Png),
            "jpg" | "jpeg" => Some(Self::Jpeg),
            _ => None,
        }
    }
}

/// Reads the text of a `shop.toml`. `name` is what the faults call the file; it is not opened.
///
/// # Errors
///
/// Every fault in the text, by place: text that is not TOML, unknown keys, values of the wrong type, a logo whose name ends
/// with no known format or that lies in another folder.
///
/// ```
/// let shop = paperwork::read_shop("shop.toml", "name = \"Weir Shafts\"\naddress = [\"1 Weir Yard\"]\n")?;
/// assert_eq!(shop.address, ["1 Weir Yard"]);
/// let faults = paperwork::read_shop("shop.toml", "name = \"Weir Shafts\"\nadress = []\n").unwrap_err();
/// assert!(faults.to_string().starts_with("shop.toml:2:1: `adress` is not known here, did you mean `address`?"));
/// # Ok::<(), placed::Faults>(())
/// ```
pub fn read_shop(name: &str, text: &str) -> Result<ShopDetails, Faults> {
    let document = Document::parse(name, text);
    let root = document.root();
    let shop = shop_from(&root);
    root.finish();
    document.outcome(shop)
}

fn shop_from(root: &TableReader<'_>) -> Option<ShopDetails> {
    let name = root.required("name").and_then(|item| item.filled_text().map(str::to_owned));
    let address = lines(root, "address");
    let contact = lines(root, "contact");
    let terms = lines(root, "terms");
    let logo = root.optional("logo").and_then(|item| logo_file(&item));
    let page_size = root.optional("page_size").and_then(|item| item.one_of(&PAGE_SIZES));
    let units = root.optional("units").and_then(|item| item.one_of(&PAPER_UNITS));
    Some(ShopDetails { name: name?, address, contact, logo, terms, page_size, units })
}

fn lines(root: &TableReader<'_>, key: &str) -> Vec<String> {
    let Some(items) = root.optional(key).and_then(|item| item.list()) else { return Vec::new() };
    items.iter().filter_map(|item| item.filled_text().map(str::to_owned)).collect()
}

fn logo_file(item: &Item<'_>) -> Option<String> {
    const ACCEPTED: &str = "the name of a file in the shop's folder that ends with .svg, .png, .jpg or .jpeg";
    let name = item.filled_text()?;
    if name.contains(['/', '\\']) {
        item.fault("the logo lies in another folder", ACCEPTED);
        return None;
    }
    if LogoKind::of_file(name).is_none() {
        item.fault("the name of the logo does not say a format that can be printed", ACCEPTED);
        return None;
    }
    Some(name.to_owned())
}
