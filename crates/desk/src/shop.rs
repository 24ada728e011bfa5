//! The shop's folder while the desk is open: its own rows of the catalog, and what its papers say of it.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError, RwLock};

use book::{KeptCatalog, MarkedCatalog};
use catalog::Catalog;
use paperwork::{Shop, ShopDetails};
use shop_folder::{FolderLock, FolderMark, Problems};

use crate::error::DeskError;
use crate::rereviewing::Rereviewing;

mod former;
mod proposal;

pub(crate) use former::Former;
pub(crate) use proposal::{Effect, OrderEffect, Proposal, Proposals};

/// What the letterhead says where the shop has not entered its name.
const NO_SHOP: &str = "Axlewright";

/// The shop. It is read once and changed as a whole: whoever has taken a part of it keeps what they have.
pub(crate) struct ShopRoom {
    folder: PathBuf,
    stands: RwLock<Stands>,
    proposals: Proposals,
    rereviewing: Rereviewing,
    /// What the folder was known by when it was last read, and what kept it from being read.
    looked_at: Mutex<LookedAt>,
}

/// The folder as it was last looked at.
#[derive(Debug, Default)]
struct LookedAt {
    mark: FolderMark,
    trouble: Option<String>,
}

/// The folder as it was read.
struct Stands {
    /// The shop's own files of the catalog: path and text, by name.
    files: Arc<Vec<(String, String)>>,
    catalog: Arc<MarkedCatalog>,
    papers: Arc<Shop>,
    warnings: Vec<String>,
}

impl ShopRoom {
    /// Reads the folder. It may be empty or not be there yet.
    ///
    /// # Errors
    ///
    /// A file cannot be read or holds faults.
    pub fn open(folder: PathBuf) -> Result<Self, DeskError> {
        let mark = FolderMark::of(&folder);
        let stands = read(&folder).map_err(|problems| refusal(&problems))?;
        Ok(Self {
            folder,
            stands: RwLock::new(stands),
            proposals: Proposals::default(),
            rereviewing: Rereviewing::default(),
            looked_at: Mutex::new(LookedAt { mark, trouble: None }),
        })
    }

    /// The catalog as it stands.
    pub fn catalog(&self) -> Arc<MarkedCatalog> {
        self.stands(|stands| stands.catalog.clone())
    }

    /// The catalog as it stands, with the texts that it was read from.
    pub fn catalog_in_texts(&self) -> (Arc<MarkedCatalog>, KeptCatalog) {
        let (catalog, files) = self.stands(|stands| (stands.catalog.clone(), stands.files.clone()));
        let name_of =
            |path: &str| Path::new(path).file_name().map_or(path.into(), |name| name.to_string_lossy().into_owned());
        let texts = KeptCatalog {
            shipped: catalog::shipped_texts().map(|(name, text)| (name.to_owned(), text.to_owned())).collect(),
            own: files.iter().map(|(path, text)| (name_of(path), text.clone())).collect(),
        };
        (catalog, texts)
    }

    /// What the papers say of the shop, with logo and templates.
    pub fn papers(&self) -> Arc<Shop> {
        self.stands(|stands| stands.papers.clone())
    }

    /// What is amiss in the folder and keeps nothing from being used.
    pub fn warnings(&self) -> Vec<String> {
        self.stands(|stands| stands.warnings.clone())
    }

    /// The shop's own files of the catalog as they were last read: path and text.
    pub fn files(&self) -> Arc<Vec<(String, String)>> {
        self.stands(|stands| stands.files.clone())
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Changes of the catalog that somebody has entered and not saved.
    pub fn proposals(&self) -> &Proposals {
        &self.proposals
    }

    /// The run over the open orders after a change.
    pub fn rereviewing(&self) -> &Rereviewing {
        &self.rereviewing
    }

    /// The path of one of the shop's own files of the catalog.
    pub fn path_of(&self, file: &str) -> PathBuf {
        self.folder.join("catalog").join(file)
    }

    /// The text of one of the shop's own files of the catalog as it was last read; empty where there is none.
    pub fn own_text(&self, file: &str) -> String {
        let path = self.path_of(file).display().to_string();
        self.files().iter().find(|(known, _)| *known == path).map(|(_, text)| text.clone()).unwrap_or_default()
    }

    /// The catalog as it would be with another text of one of the shop's own files.
    ///
    /// # Errors
    ///
    /// Every fault, each with its place.
    pub fn catalog_with(&self, file: &str, text: &str) -> Result<Catalog, placed::Faults> {
        let path = self.path_of(file).display().to_string();
        let mut files = self.files().as_ref().clone();
        match files.iter_mut().find(|(known, _)| *known == path) {
            Some(found) => text.clone_into(&mut found.1),
            None => files.push((path, text.to_owned())),
        }
        files.sort();
        Catalog::with_folder(&files)
    }

    /// Reads the folder again, after files were changed by hand. Where something is wrong, what was read before stays.
    ///
    /// # Errors
    ///
    /// A file cannot be read or holds faults.
    pub fn read_again(&self) -> Result<(), Problems> {
        self.take_over(FolderMark::of(&self.folder)).map(|_| ())
    }

    /// Whether a file of the folder was changed since it was read. This looks at names and times alone and takes a moment.
    pub fn has_changed(&self) -> bool {
        let mark = FolderMark::of(&self.folder);
        self.looked_at.lock().unwrap_or_else(PoisonError::into_inner).mark != mark
    }

    /// Reads the folder again where a file in it was changed by somebody else: by hand, or by another desk on the same folder. Says
    /// whether the catalog is another one by now. What cannot be read is told by [`ShopRoom::trouble`], and what was read before
    /// stays.
    pub fn look_again(&self) -> bool {
        if !self.has_changed() {
            return false;
        }
        // Whoever writes holds the lock until the folder is whole again. Without it the next page looks once more.
        let Ok(_held) = FolderLock::take(&self.folder) else { return false };
        self.take_over(FolderMark::of(&self.folder)).unwrap_or(false)
    }

    /// What keeps the folder, as it lies there now, from being read.
    pub fn trouble(&self) -> Option<String> {
        self.looked_at.lock().unwrap_or_else(PoisonError::into_inner).trouble.clone()
    }

    /// Reads the folder, which bore a mark before it was read; says whether the catalog is another one.
    fn take_over(&self, mark: FolderMark) -> Result<bool, Problems> {
        let fresh = read(&self.folder);
        let mut looked_at = self.looked_at.lock().unwrap_or_else(PoisonError::into_inner);
        looked_at.mark = mark;
        looked_at.trouble = fresh.as_ref().err().map(ToString::to_string);
        let fresh = fresh?;
        let mut stands = self.stands.write().unwrap_or_else(PoisonError::into_inner);
        let another = stands.catalog.mark() != fresh.catalog.mark();
        *stands = fresh;
        Ok(another)
    }

    /// Writes another text of one of the shop's own files of the catalog, if the file still says what the writer saw, and takes
    /// the catalog over. The former text is kept beside it.
    ///
    /// # Errors
    ///
    /// The file has changed meanwhile, cannot be written, or the folder would hold faults with it.
    pub fn save(&self, file: &str, seen: &str, text: &str) -> Result<(), SaveError> {
        let path = self.path_of(file);
        let _held = FolderLock::take(&self.folder).map_err(|why| SaveError::of(&path, &why))?;
        let on_disk = text_on_disk(&path).map_err(|why| SaveError::of(&path, &why))?;
        if on_disk != seen {
            return Err(SaveError::Overtaken);
        }
        // Other files may have been changed by hand since they were read: what is saved must go with what lies there now.
        let mut files = shop_folder::catalog_texts(&self.folder.join("catalog"))
            .map_err(|problems| SaveError::Refused(refusal(&problems)))?;
        let name = path.display().to_string();
        match files.iter_mut().find(|(known, _)| *known == name) {
            Some(found) => text.clone_into(&mut found.1),
            None => files.push((name, text.to_owned())),
        }
        Catalog::with_folder(&files).map_err(|faults| SaveError::Refused(faults.into()))?;
        former::keep(&self.folder, file, seen, text).map_err(|why| SaveError::of(&path, &why))?;
        shop_folder::write(&path, text).map_err(|why| SaveError::of(&path, &why))?;
        self.read_again().map_err(|problems| SaveError::Refused(refusal(&problems)))
    }

    /// Writes another letterhead, if `shop.toml` still says what the writer saw, with another logo beside it where there is one.
    ///
    /// # Errors
    ///
    /// The file has changed meanwhile, cannot be written or would hold faults.
    pub fn save_letterhead(&self, seen: &str, text: &str, logo: Option<(&str, &[u8])>) -> Result<(), SaveError> {
        let path = self.folder.join("shop.toml");
        let _held = FolderLock::take(&self.folder).map_err(|why| SaveError::of(&path, &why))?;
        if text_on_disk(&path).map_err(|why| SaveError::of(&path, &why))? != seen {
            return Err(SaveError::Overtaken);
        }
        paperwork::read_shop("shop.toml", text).map_err(|faults| SaveError::Refused(faults.into()))?;
        if let Some((name, bytes)) = logo {
            shop_folder::replace(&self.folder.join(name), bytes).map_err(|why| SaveError::of(&path, &why))?;
        }
        former::keep(&self.folder, "shop.toml", seen, text).map_err(|why| SaveError::of(&path, &why))?;
        shop_folder::write(&path, text).map_err(|why| SaveError::of(&path, &why))?;
        self.read_again().map_err(|problems| SaveError::Refused(refusal(&problems)))
    }

    /// The text of `shop.toml`; empty where there is none.
    pub fn letterhead_text(&self) -> String {
        text_on_disk(&self.folder.join("shop.toml")).unwrap_or_default()
    }

    /// What the last change of one of the shop's own files replaced, where nothing has changed the file since.
    pub fn former(&self, file: &str) -> Option<Former> {
        former::latest(&self.folder, file, &self.own_text(file))
    }

    fn stands<T>(&self, take: impl FnOnce(&Stands) -> T) -> T {
        take(&self.stands.read().unwrap_or_else(PoisonError::into_inner))
    }
}

/// Why a change was not saved.
#[derive(Debug)]
pub(crate) enum SaveError {
    /// The file is no longer what the writer saw.
    Overtaken,
    /// It cannot be saved.
    Refused(DeskError),
}

impl SaveError {
    fn of(path: &Path, why: &shop_folder::Unreadable) -> Self {
        Self::Refused(DeskError::refused(format!("{}: {}", path.display(), why.problem), why.accepted.clone()))
    }
}

impl From<SaveError> for DeskError {
    fn from(error: SaveError) -> Self {
        match error {
            SaveError::Overtaken => DeskError::refused(
                "somebody else has changed this file meanwhile, so nothing was saved",
                "the same change once more, on the file as it stands now",
            ),
            SaveError::Refused(error) => error,
        }
    }
}

/// Everything that is wrong with a folder, as one refusal.
pub(crate) fn refusal(problems: &Problems) -> DeskError {
    DeskError::refused(problems.to_string(), "a folder whose files hold no faults")
}

fn text_on_disk(path: &Path) -> Result<String, shop_folder::Unreadable> {
    if path.exists() { shop_folder::read(path, "a text file in TOML, saved as UTF-8") } else { Ok(String::new()) }
}

fn read(folder: &Path) -> Result<Stands, Problems> {
    let files = shop_folder::catalog_texts(&folder.join("catalog"))?;
    let catalog = if files.is_empty() { Catalog::shipped()? } else { Catalog::with_folder(&files)? };
    let (shop, warnings) = if folder.join("shop.toml").exists() {
        let loaded = shop_folder::load_shop(folder)?;
        (loaded.shop, loaded.warnings)
    } else {
        let details = ShopDetails { name: NO_SHOP.to_owned(), ..ShopDetails::default() };
        (Shop { details, ..Shop::default() }, vec!["the shop has no letterhead yet".to_owned()])
    };
    let catalog = Arc::new(MarkedCatalog::new(catalog));
    Ok(Stands { files: Arc::new(files), catalog, papers: Arc::new(shop), warnings })
}
