//! Whether a logo may go onto papers. A small file may unpack to a picture of many gigabytes, and what is set on every page is
//! unpacked on every page: so the sizes are looked at before anything is made of the pixels.

use std::io::Cursor;

use image::{DynamicImage, ImageFormat, ImageReader, Limits};
use paperwork::LogoKind;
use roxmltree::{Document, Node, ParsingOptions};

/// The most that a logo may hold, in bytes.
pub const LARGEST_LOGO: u64 = 4 * 1024 * 1024;

/// The longest side of a picture of pixels.
const LONGEST_SIDE: u32 = 12_000;

/// The most pixels of a logo, those of all pictures in an SVG together: 12 000 by 8 000.
const MOST_PIXELS: u64 = 96_000_000;

/// Memory that the pixels of a logo may take: four bytes for each.
const MOST_MEMORY: u64 = 4 * MOST_PIXELS;

/// The most elements of an SVG.
const MOST_ELEMENTS: u32 = 100_000;

/// What is accepted as a logo.
pub const LOGO_ACCEPTED: &str = "an SVG, PNG or JPEG file of at most 4 MiB and 12000 pixels a side; in an SVG lines and surfaces, \
     and pictures as PNG or JPEG of at most 12000 pixels a side, 96 million pixels in all";

/// Looks whether a file may go onto papers as a logo.
///
/// ```
/// use paperwork::LogoKind;
/// use shop_folder::check_logo;
///
/// assert_eq!(check_logo(LogoKind::Svg, b"<svg xmlns='http://www.w3.org/2000/svg'/>"), Ok(()));
/// assert_eq!(check_logo(LogoKind::Png, b"<svg/>").unwrap_err(), "the file is not of the format that its name says");
/// ```
///
/// # Errors
///
/// What is wrong with it, in words; what would be accepted says [`LOGO_ACCEPTED`].
pub fn check_logo(kind: LogoKind, bytes: &[u8]) -> Result<(), String> {
    if bytes.len() as u64 > LARGEST_LOGO {
        return Err(format!("the logo is larger than {} MiB", LARGEST_LOGO / 1024 / 1024));
    }
    let another = || "the file is not of the format that its name says".to_owned();
    let raster = |format| if sniffed(bytes) == Some(format) { read_whole(bytes, format) } else { Err(another()) };
    match kind {
        LogoKind::Png => raster(ImageFormat::Png),
        LogoKind::Jpeg => raster(ImageFormat::Jpeg),
        // Packed SVG is no text, and is not unpacked.
        LogoKind::Svg => check_svg(std::str::from_utf8(bytes).map_err(|_| another())?),
    }
}

/// The formats of pixels that are accepted, told by their first bytes.
fn sniffed(bytes: &[u8]) -> Option<ImageFormat> {
    match bytes {
        _ if bytes.starts_with(b"\x89PNG\r\n\x1a\n") => Some(ImageFormat::Png),
        _ if bytes.starts_with(&[0xff, 0xd8, 0xff]) => Some(ImageFormat::Jpeg),
        _ => None,
    }
}

/// Reads all pixels within the limits, so that a damaged picture is found here and not on a paper.
fn read_whole(bytes: &[u8], format: ImageFormat) -> Result<(), String> {
    let unread = |error: image::ImageError| format!("the logo cannot be read, it may be damaged or too large: {error}");
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(unread)?;
    DynamicImage::from_decoder(decoder).map(|_| ()).map_err(unread)
}

fn check_svg(text: &str) -> Result<(), String> {
    // A few letters may stand for gigabytes of text.
    if text.contains("<!ENTITY") {
        return Err("the SVG declares entities of its own".to_owned());
    }
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_ELEMENTS, ..ParsingOptions::default() };
    let document =
        Document::parse_with_options(text, options).map_err(|error| format!("the SVG cannot be read: {error}"))?;
    if document.root_element().tag_name().name() != "svg" {
        return Err("the file is not of the format that its name says".to_owned());
    }
    let mut pixels = 0;
    for element in document.descendants().filter(|node| matches!(node.tag_name().name(), "image" | "feImage")) {
        for address in addresses(&element) {
            pixels += pixels_within(address)?;
        }
    }
    if pixels > MOST_PIXELS {
        return Err(format!("the pictures in the SVG have {} million pixels together", pixels / 1_000_000));
    }
    Ok(())
}

/// What an element links to, with or without the prefix of XLink.
fn addresses<'a>(element: &Node<'a, '_>) -> impl Iterator<Item = &'a str> {
    element.attributes().filter(|attribute| attribute.name() == "href").map(|attribute| attribute.value())
}

/// The pixels of a picture that an address holds itself; none where it names a file, which nothing here opens.
fn pixels_within(address: &str) -> Result<u64, String> {
    let Ok(url) = data_url::DataUrl::process(address) else { return Ok(0) };
    let (bytes, _) = url.decode_to_vec().map_err(|_| "a picture in the SVG is damaged".to_owned())?;
    let format = sniffed(&bytes).ok_or("a picture in the SVG is neither PNG nor JPEG")?;
    let (width, height) = ImageReader::with_format(Cursor::new(&bytes), format)
        .into_dimensions()
        .map_err(|error| format!("a picture in the SVG cannot be read: {error}"))?;
    if width.max(height) > LONGEST_SIDE {
        return Err(format!("a picture in the SVG is {width} by {height} pixels"));
    }
    Ok(u64::from(width) * u64::from(height))
}

#[cfg(test)]
mod tests {
    use paperwork::LogoKind;

    use super::check_logo;

    /// The head of a PNG of this size in black and white; its pixels are missing.
    fn png_head(width: u32, height: u32) -> Vec<u8> {
        let mut chunk = b"IHDR".to_vec();
        chunk.extend(width.to_be_bytes());
        chunk.extend(height.to_be_bytes());
        chunk.extend([1, 0, 0, 0, 0]);
        let mut bytes = b"\x89PNG\r\n\x1a\n\x00\x00\x00\x0d".to_vec();
        bytes.extend(&chunk);
        bytes.extend(checksum(&chunk).to_be_bytes());
        // An empty chunk of pixels ends what a reader takes for the head.
        bytes.extend(b"\x00\x00\x00\x00IDAT");
        bytes.extend(checksum(b"IDAT").to_be_bytes());
        bytes
    }

    /// The checksum of a PNG's chunk (CRC-32 of ISO 3309).
    fn checksum(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(u32::MAX, |sum, byte| {
            (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg()))
        })
    }

    /// An SVG that holds these pictures, each byte written out.
    fn svg_around(pictures: &[Vec<u8>]) -> String {
        let images: String = pictures
            .iter()
            .map(|picture| {
                let coded: String = picture.iter().map(|byte| format!("%{byte:02x}")).collect();
                format!("<image xlink:href='data:image/png,{coded}'/>")
            })
            .collect();
        format!("<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink'>{images}</svg>")
    }

    fn svg(text: &str) -> Result<(), String> {
        check_logo(LogoKind::Svg, text.as_bytes())
    }

    #[test]
    fn an_svg_may_hold_pictures_but_none_that_is_huge() {
        assert_eq!(svg(&svg_around(&[png_head(400, 300)])), Ok(()));
        let huge = svg(&svg_around(&[png_head(400, 300), png_head(60_000, 60_000)])).unwrap_err();
        assert_eq!(huge, "a picture in the SVG is 60000 by 60000 pixels");
        let many = svg(&svg_around(&vec![png_head(8_000, 8_000); 3])).unwrap_err();
        assert_eq!(many, "the pictures in the SVG have 192 million pixels together");
    }

    #[test]
    fn what_an_svg_hides_is_no_logo() {
        let nested = "<svg><image href='data:image/svg+xml,%3Csvg/%3E'/></svg>";
        assert_eq!(svg(nested).unwrap_err(), "a picture in the SVG is neither PNG nor JPEG");
        let entities = "<!DOCTYPE svg [<!ENTITY a 'aaaa'>]><svg>&a;</svg>";
        assert_eq!(svg(entities).unwrap_err(), "the SVG declares entities of its own");
        // The first bytes of what gzip has packed.
        assert!(check_logo(LogoKind::Svg, &[0x1f, 0x8b, 0x08, 0x00, 0xff]).is_err());
        assert!(svg("<html/>").is_err());
        assert!(svg("<svg>").unwrap_err().starts_with("the SVG cannot be read"));
        // A file that is only named is not opened; the papers are set without it.
        assert_eq!(svg("<svg><image href='other.png'/></svg>"), Ok(()));
    }

    #[test]
    fn a_picture_of_pixels_is_of_the_kind_that_its_name_says_and_whole() {
        let head = png_head(400, 300);
        assert!(check_logo(LogoKind::Jpeg, &head).unwrap_err().contains("not of the format"));
        assert!(check_logo(LogoKind::Png, &head).unwrap_err().contains("it may be damaged or too large"));
        assert!(check_logo(LogoKind::Png, &png_head(60_000, 60_000)).unwrap_err().contains("too large"));
    }
}
