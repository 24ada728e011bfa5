//! Pictures that people send: told by their first bytes, made anew from their pixels, so that nothing else in the file is kept.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

use crate::error::BookError;

/// The largest file that is taken in, in bytes.
pub const LARGEST_UPLOAD: usize = 20 * 1024 * 1024;
/// The longest edge of a picture that is taken in, in pixels.
const LONGEST_EDGE_IN: u32 = 12_000;
/// Memory that the pixels of one picture may take while they are read: 12 000 by 8 000 pixels of three bytes.
const MOST_MEMORY: u64 = 288 * 1024 * 1024;
/// The longest edge of a picture that is kept; a caliper's scale is still read on it.
const LONGEST_EDGE_KEPT: u32 = 2_560;
/// The longest edge of a thumbnail.
const LONGEST_EDGE_THUMBNAIL: u32 = 320;
const QUALITY: u8 = 85;
const QUALITY_THUMBNAIL: u8 = 75;

const ACCEPTED: &str = "a photo as JPEG, PNG or WebP of at most 20 MB and 12000 pixels a side";

/// A picture that is fit to be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// `image/jpeg` or `image/png`.
    pub media_type: &'static str,
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
    /// The picture, without any word about camera, place or time.
    pub bytes: Vec<u8>,
    /// A small JPEG of it.
    pub thumbnail: Vec<u8>,
}

impl Picture {
    /// Reads a picture that somebody sent. What it is, is told by its bytes and not by its name. It is turned upright, made no
    /// larger than 2560 pixels, and written anew: EXIF and everything else that is no pixel stays behind. This computes for up to
    /// a second.
    ///
    /// ```
    /// use book::Picture;
    ///
    /// let refused = Picture::read(b"%PDF-1.7").unwrap_err();
    /// assert!(refused.to_string().contains("accepted: a photo as JPEG, PNG or WebP"));
    /// ```
    ///
    /// # Errors
    ///
    /// The file is too large, is no JPEG, PNG or WebP, or is damaged.
    pub fn read(bytes: &[u8]) -> Result<Self, BookError> {
        if bytes.len() > LARGEST_UPLOAD {
            let megabytes = bytes.len() / (1024 * 1024);
            return Err(BookError::refused(format!("the photo has {megabytes} MB"), ACCEPTED));
        }
        let format = sniffed(bytes)?;
        let damaged = |error: image::ImageError| {
            BookError::refused(format!("the photo cannot be read, it may be damaged or too large: {error}"), ACCEPTED)
        };
        let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
        let mut limits = Limits::default();
        limits.max_image_width = Some(LONGEST_EDGE_IN);
        limits.max_image_height = Some(LONGEST_EDGE_IN);
        limits.max_alloc = Some(MOST_MEMORY);
        reader.limits(limits);
        let mut decoder = reader.into_decoder().map_err(damaged)?;
        let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
        let mut picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
        picture.apply_orientation(orientation);
        if picture.width().max(picture.height()) > LONGEST_EDGE_KEPT {
            picture = picture.thumbnail(LONGEST_EDGE_KEPT, LONGEST_EDGE_KEPT);
        }
        let small = picture.thumbnail(LONGEST_EDGE_THUMBNAIL, LONGEST_EDGE_THUMBNAIL);
        // A PNG is a drawing or a screen more often than a photo; JPEG would smear its lines.
        let (media_type, kept) = if format == ImageFormat::Png {
            ("image/png", png(&picture).map_err(damaged)?)
        } else {
            ("image/jpeg", jpeg(&picture, QUALITY).map_err(damaged)?)
        };
        Ok(Self {
            media_type,
            width: picture.width(),
            height: picture.height(),
            bytes: kept,
            thumbnail: jpeg(&small, QUALITY_THUMBNAIL).map_err(damaged)?,
        })
    }
}

/// What the first bytes say. The marks are those of the formats' own specifications.
fn sniffed(bytes: &[u8]) -> Result<ImageFormat, BookError> {
    if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
        return Ok(ImageFormat::Jpeg);
    }
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Ok(ImageFormat::Png);
    }
    if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        return Ok(ImageFormat::WebP);
    }
    // ISO/IEC 23008-12: a box `ftyp` with one of these brands.
    let brands: [&[u8]; 6] = [b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"avif"];
    if bytes.get(4..8) == Some(b"ftyp") && bytes.get(8..12).is_some_and(|brand| brands.contains(&brand)) {
        return Err(BookError::refused(
            "the photo is in the format HEIC or AVIF, which cannot be read here",
            "the same photo as JPEG: set the phone's camera to the most compatible format, or send the photo by mail to \
             yourself first, which turns it into JPEG on most phones",
        ));
    }
    if bytes.starts_with(b"%PDF") {
        return Err(BookError::refused("the file is a PDF and no photo", ACCEPTED));
    }
    Err(BookError::refused("the file is no photo that can be read here", ACCEPTED))
}

fn jpeg(picture: &DynamicImage, quality: u8) -> Result<Vec<u8>, image::ImageError> {
    let mut bytes = Vec::new();
    picture.to_rgb8().write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, quality))?;
    Ok(bytes)
}

fn png(picture: &DynamicImage) -> Result<Vec<u8>, image::ImageError> {
    let mut bytes = Cursor::new(Vec::new());
    // Sixteen bits a channel are of no use on a desk.
    let picture = if picture.color().has_alpha() {
        DynamicImage::ImageRgba8(picture.to_rgba8())
    } else {
        DynamicImage::ImageRgb8(picture.to_rgb8())
    };
    picture.write_to(&mut bytes, ImageFormat::Png)?;
    Ok(bytes.into_inner())
}
