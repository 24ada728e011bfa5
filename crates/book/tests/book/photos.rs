//! Photos: told by their bytes, made anew, without a word about camera, place or time.

use std::io::Cursor;

use book::{BookError, LARGEST_UPLOAD, Person, Picture, Role};
use image::{DynamicImage, ImageEncoder, ImageFormat, Rgb, RgbImage};

use crate::both::{at, desk, on_both, place_sound};

fn written(picture: RgbImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(picture).write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

pub fn red_png() -> Vec<u8> {
    written(RgbImage::from_pixel(40, 30, Rgb([200, 0, 0])), ImageFormat::Png)
}

/// An EXIF block (CIPA DC-008): little-endian TIFF with the camera's maker and an orientation.
fn exif(orientation: u8) -> Vec<u8> {
    let mut block = b"II*\0\x08\0\0\0\x02\0".to_vec();
    // 0x010f, ASCII, 14 bytes at offset 38.
    block.extend([0x0f, 0x01, 2, 0, 14, 0, 0, 0, 38, 0, 0, 0]);
    // 0x0112, SHORT, one, in place.
    block.extend([0x12, 0x01, 3, 0, 1, 0, 0, 0, orientation, 0, 0, 0]);
    block.extend([0, 0, 0, 0]);
    block.extend(b"SecretMaker55\0");
    block
}

/// A JPEG that is red on its left half, lying on its side, with an EXIF block.
fn lying_jpeg() -> Vec<u8> {
    let picture = RgbImage::from_fn(64, 32, |x, _| if x < 32 { Rgb([220, 0, 0]) } else { Rgb([0, 0, 220]) });
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new(&mut bytes);
    encoder.set_exif_metadata(exif(6)).unwrap();
    encoder.write_image(&picture, 64, 32, image::ExtendedColorType::Rgb8).unwrap();
    bytes
}

fn holds(bytes: &[u8], words: &[u8]) -> bool {
    bytes.windows(words.len()).any(|window| window == words)
}

#[test]
fn exif_is_gone_and_the_picture_upright() {
    let sent = lying_jpeg();
    assert!(holds(&sent, b"SecretMaker55") && holds(&sent, b"Exif"));
    let picture = Picture::read(&sent).unwrap();
    assert_eq!(picture.media_type, "image/jpeg");
    // Orientation 6 says: turn to the right. What was on the left is on top.
    assert_eq!((picture.width, picture.height), (32, 64));
    let kept = image::load_from_memory(&picture.bytes).unwrap().to_rgb8();
    assert!(kept.get_pixel(16, 8).0[0] > 180 && kept.get_pixel(16, 56).0[2] > 180);
    for bytes in [&picture.bytes, &picture.thumbnail] {
        assert!(!holds(bytes, b"SecretMaker55") && !holds(bytes, b"Exif"));
    }
}

#[test]
fn a_photo_is_told_by_its_bytes_and_made_no_larger_than_is_needed() {
    let webp = Picture::read(&written(RgbImage::new(50, 20), ImageFormat::WebP)).unwrap();
    assert_eq!((webp.media_type, webp.width), ("image/jpeg", 50));
    let large = Picture::read(&written(RgbImage::new(4000, 100), ImageFormat::Png)).unwrap();
    assert_eq!((large.media_type, large.width, large.height), ("image/png", 2560, 64));
    assert_eq!(image::load_from_memory(&large.thumbnail).unwrap().width(), 320);
}

#[test]
fn what_is_no_photo_is_refused_in_plain_words() {
    let refused = |bytes: &[u8]| Picture::read(bytes).unwrap_err().to_string();
    let heic = refused(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic");
    assert!(heic.contains("HEIC") && heic.contains("accepted: the same photo as JPEG"), "{heic}");
    assert!(refused(b"GIF89a").contains("accepted: a photo as JPEG, PNG or WebP"));
    assert!(refused(b"").contains("no photo"));
    assert!(refused(b"<svg onload=alert(1)>").contains("no photo"));
    assert!(refused(&vec![0xff; LARGEST_UPLOAD + 1]).contains("20 MB"));
    let whole = red_png();
    assert!(refused(&whole[..whole.len() / 2]).contains("damaged"));
    // A file that claims to unfold into four thousand million pixels is refused before it does.
    let mut bomb = whole;
    bomb[16..24].copy_from_slice(&[0, 0, 0xff, 0xff, 0, 0, 0xff, 0xff]);
    assert!(Picture::read(&bomb).is_err());
}

#[test]
fn a_photo_comes_back_as_it_was_kept() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let picture = Picture::read(&lying_jpeg()).unwrap();
        let guest = Person::guest("Tamsin Müller");
        let photo = book.add_photo(1, &picture, "C:\\me\\left flange.jpg", "left", &guest, at(2)).await.unwrap();
        assert_eq!((photo.name.as_str(), photo.width, photo.height), ("left flange.jpg", 32, 64));
        assert_eq!(book.photos(1).await.unwrap(), std::slice::from_ref(&photo));
        assert_eq!(book.photo(photo.number).await.unwrap(), photo);
        assert_eq!(book.photo_picture(photo.number).await.unwrap(), picture.bytes);
        assert_eq!(book.photo_thumbnail(photo.number).await.unwrap(), picture.thumbnail);
        assert!(matches!(book.photo(99).await, Err(BookError::NotFound { .. })));
        assert!(matches!(book.add_photo(99, &picture, "x", "", &desk(), at(2)).await, Err(BookError::NotFound { .. })));
        let looker = Person::new("Looker", Role::ReadOnly);
        assert!(book.add_photo(1, &picture, "x", "", &looker, at(2)).await.is_err());
    });
}
