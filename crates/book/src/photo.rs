//! Photos of an order.

use jiff::Timestamp;
use serde_json::json;

use crate::Book;
use crate::database::{Row, Transaction, Value};
use crate::digest::sha256;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::{line_in, next_number};
use crate::person::Person;
use crate::picture::Picture;
use crate::placing::{LONGEST_WORDS, must_be_short};
use crate::role::Role;

/// The most photos of one order.
const MOST_PHOTOS: i64 = 200;

/// A photo of an order, without its picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// Its number in the book.
    pub number: i64,
    /// The order.
    pub order: i64,
    /// When it came in.
    pub at: Timestamp,
    /// Who sent it.
    pub who: String,
    /// What the file was called, without any folder.
    pub name: String,
    /// What it shows.
    pub caption: String,
    /// `image/jpeg` or `image/png`.
    pub media_type: String,
    /// In pixels.
    pub width: i64,
    /// In pixels.
    pub height: i64,
    /// In bytes.
    pub size: i64,
    /// SHA-256 of the picture.
    pub digest: String,
}

const COLUMNS: &str = "number, order_number, at, who, name, caption, media_type, width, height, size, digest";

impl Photo {
    fn of_row(row: &Row) -> Result<Self, BookError> {
        Ok(Self {
            number: row.integer(0)?,
            order: row.integer(1)?,
            at: row.time(2)?,
            who: row.text(3)?,
            name: row.text(4)?,
            caption: row.text(5)?,
            media_type: row.text(6)?,
            width: row.integer(7)?,
            height: row.integer(8)?,
            size: row.integer(9)?,
            digest: row.text(10)?,
        })
    }
}

/// Writes a photo and its picture into their tables.
pub(crate) async fn write_photo(
    transaction: &mut Transaction,
    photo: &Photo,
    picture: &Picture,
) -> Result<(), BookError> {
    let row: Vec<Value> = vec![
        photo.number.into(),
        photo.order.into(),
        photo.at.into(),
        (&photo.who).into(),
        (&photo.name).into(),
        (&photo.caption).into(),
        (&photo.media_type).into(),
        photo.width.into(),
        photo.height.into(),
        photo.size.into(),
        (&photo.digest).into(),
    ];
    let columns =
        ["number", "order_number", "at", "who", "name", "caption", "media_type", "width", "height", "size", "digest"];
    transaction.insert("photo", &columns, &[row]).await?;
    let row = vec![photo.number.into(), picture.bytes.clone().into(), picture.thumbnail.clone().into()];
    transaction.insert("photo_picture", &["photo_number", "picture", "thumbnail"], &[row]).await
}

impl Book {
    /// Adds a photo to an order. [`Picture::read`] makes the picture out of what was sent.
    ///
    /// # Errors
    ///
    /// There is no such order, it has too many photos, the person may not, or the database refuses.
    pub async fn add_photo(
        &self,
        order: i64,
        picture: &Picture,
        name: &str,
        caption: &str,
        who: &Person,
        now: Timestamp,
    ) -> Result<Photo, BookError> {
        who.must_be_guest_or("add a photo", &[Role::Owner, Role::Desk, Role::Floor])?;
        must_be_short("caption", caption, LONGEST_WORDS)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        line_in(&mut transaction, order).await?;
        let there = transaction.row("SELECT COUNT(*) FROM photo WHERE order_number = $1", &[order.into()]).await?;
        if there.map_or(Ok(0), |row| row.integer(0))? >= MOST_PHOTOS {
            return Err(BookError::refused(
                format!("the order has {MOST_PHOTOS} photos"),
                format!("at most {MOST_PHOTOS} photos of one order"),
            ));
        }
        let photo = Photo {
            number: next_number(&mut transaction, "photo").await?,
            order,
            at: now,
            who: who.name.clone(),
            name: file_name(name),
            caption: caption.to_owned(),
            media_type: picture.media_type.to_owned(),
            width: i64::from(picture.width),
            height: i64::from(picture.height),
            size: i64::try_from(picture.bytes.len()).unwrap_or(i64::MAX),
            digest: sha256(&picture.bytes),
        };
        write_photo(&mut transaction, &photo, picture).await?;
        let body = json!({"photo": photo.number, "name": photo.name, "caption": photo.caption, "sha256": photo.digest});
        log.append(&mut transaction, now, who, EventKind::Photo, Some(order), &body).await?;
        transaction.commit().await?;
        Ok(photo)
    }

    /// The photos of an order, the first one first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn photos(&self, order: i64) -> Result<Vec<Photo>, BookError> {
        let statement = format!("SELECT {COLUMNS} FROM photo WHERE order_number = $1 ORDER BY number");
        self.database.rows(&statement, &[order.into()]).await?.iter().map(Photo::of_row).collect()
    }

    /// One photo.
    ///
    /// # Errors
    ///
    /// There is none of that number, or the database refuses.
    pub async fn photo(&self, number: i64) -> Result<Photo, BookError> {
        let statement = format!("SELECT {COLUMNS} FROM photo WHERE number = $1");
        let row = self.database.row(&statement, &[number.into()]).await?;
        Photo::of_row(&row.ok_or_else(|| BookError::none(format!("photo {number}")))?)
    }

    /// The bytes of a photo's picture.
    ///
    /// # Errors
    ///
    /// There is none of that number, or the database refuses.
    pub async fn photo_picture(&self, number: i64) -> Result<Vec<u8>, BookError> {
        self.photo_bytes("picture", number).await
    }

    /// The bytes of a photo's thumbnail, a JPEG.
    ///
    /// # Errors
    ///
    /// There is none of that number, or the database refuses.
    pub async fn photo_thumbnail(&self, number: i64) -> Result<Vec<u8>, BookError> {
        self.photo_bytes("thumbnail", number).await
    }

    async fn photo_bytes(&self, column: &str, number: i64) -> Result<Vec<u8>, BookError> {
        let statement = format!("SELECT {column} FROM photo_picture WHERE photo_number = $1");
        let row = self.database.row(&statement, &[number.into()]).await?;
        row.ok_or_else(|| BookError::none(format!("photo {number}")))?.bytes(0)
    }
}

/// The last part of a path, without characters that would trouble an address or a disk.
fn file_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let plain: String = last
        .chars()
        .map(|one| if one.is_alphanumeric() || matches!(one, '.' | '-' | '_' | ' ') { one } else { '_' })
        .take(100)
        .collect();
    let plain = plain.trim().trim_start_matches('.').to_owned();
    if plain.is_empty() { "photo".to_owned() } else { plain }
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn a_name_is_never_a_path() {
        assert_eq!(file_name("C:\\Users\\me\\left flange.jpg"), "left flange.jpg");
        assert_eq!(file_name("../../.bashrc"), "bashrc");
        assert_eq!(file_name("/"), "photo");
        assert_eq!(file_name("a\"b<c>.png"), "a_b_c_.png");
    }
}
