//! What the typesetter sees: its library, the fonts, and a map of virtual files.
//!
//! Every path is fixed, never one per order, because the typesetter remembers each path for as long as the program runs.

use std::collections::BTreeMap;
use std::num::NonZeroU16;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook, FontStyle};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// The text face of the papers, and one with more signs for what people write.
const FACES: [&[u8]; 2] = [
    include_bytes!("../fonts/BarlowSemiCondensed_400Regular.ttf"),
    include_bytes!("../fonts/BarlowSemiCondensed_600SemiBold.ttf"),
];

/// The family that stands in for signs that the text face lacks.
const STAND_IN_FAMILY: &str = "DejaVu Sans Mono";

/// The library and the fonts, made once.
pub struct Shelf {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

impl Shelf {
    /// The shelf of this program. No font of the system is on it, so that papers look alike everywhere.
    pub fn new() -> Self {
        let own = FACES.iter().flat_map(|face| Font::iter(Bytes::new(*face)));
        let stand_ins = typst_assets::fonts().flat_map(|face| Font::iter(Bytes::new(face))).filter(|font| {
            font.info().family.as_str() == STAND_IN_FAMILY && font.info().variant.style == FontStyle::Normal
        });
        let fonts: Vec<Font> = own.chain(stand_ins).collect();
        Self { library: LazyHash::new(Library::default()), book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
    }

    /// Whether a font holds the character.
    pub fn covers(&self, character: char) -> bool {
        self.fonts.iter().any(|font| font.info().coverage.contains(character as u32))
    }
}

/// What a file is found by: its identity as a number, which can be sorted.
pub type FileKey = NonZeroU16;

/// The virtual files of one document.
pub struct Files<'s> {
    shelf: &'s Shelf,
    main: FileId,
    sources: BTreeMap<FileKey, Source>,
    bytes: BTreeMap<FileKey, Bytes>,
}

/// The identity of a path; none where it is no path.
pub fn file_id(path: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).ok()?).intern())
}

impl<'s> Files<'s> {
    /// Files around a main text.
    pub fn new(
        shelf: &'s Shelf,
        main: Source,
        mut sources: BTreeMap<FileKey, Source>,
        bytes: BTreeMap<FileKey, Bytes>,
    ) -> Self {
        let id = main.id();
        sources.insert(id.into_raw(), main);
        Self { shelf, main: id, sources, bytes }
    }
}

impl World for Files<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.shelf.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.shelf.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id.into_raw()).cloned().ok_or_else(|| not_found(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.bytes.get(&id.into_raw()).cloned().ok_or_else(|| not_found(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.shelf.fonts.get(index).cloned()
    }

    /// Nothing reads a clock: a template has the date from the frame.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_found(id: FileId) -> FileError {
    FileError::NotFound(std::path::PathBuf::from(id.get().vpath().get_without_slash()))
}
