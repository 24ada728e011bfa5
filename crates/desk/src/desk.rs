//! What every page of the desk needs.

use std::net::IpAddr;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError, RwLock};

use book::{Account, Book, MarkedCatalog};
use jiff::Timestamp;

use crate::answering::{Answering, Turn};
use crate::door::Door;
use crate::error::DeskError;
use crate::measuring::Measures;
use crate::presence::Presence;
use crate::printing::Printing;
use crate::rate::Rate;
use crate::rereviewing;
use crate::reviewing::Reviewing;
use crate::shop::ShopRoom;
use crate::simulating::Simulating;

/// Tells the time. The desk reads no clock of its own.
pub type Clock = Arc<dyn Fn() -> Timestamp + Send + Sync>;

/// Who gets in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Everybody who reaches the desk, as its owner: for a demonstration on one's own machine.
    Open,
    /// Whoever signs in with name and password.
    Accounts {
        /// Whether the pages come over TLS, from the desk or from a server before it, so that cookies are never sent without.
        secure: bool,
    },
}

/// What a desk is made of.
pub struct DeskOptions {
    /// The order book.
    pub book: Book,
    /// The shop's folder: `catalog/*.toml`, `shop.toml`, logo and templates. It may be empty; the desk writes its own rows there.
    pub shop_folder: PathBuf,
    /// Tells the time.
    pub clock: Clock,
    /// Who gets in.
    pub access: Access,
    /// The servers that ask for others and say for whom, in `X-Forwarded-For`; none where browsers ask the desk themselves.
    pub behind: Vec<IpAddr>,
}

/// The desk. Cheap to clone; every clone is the same desk.
#[derive(Clone)]
pub struct Desk {
    inner: Arc<Inner>,
}

struct Inner {
    book: Book,
    shop: ShopRoom,
    reviewing: Reviewing,
    presence: Presence,
    printing: Printing,
    clock: Clock,
    access: Access,
    behind: Vec<IpAddr>,
    /// As whom an open desk works.
    host: Option<Account>,
    door: Door,
    notice: RwLock<Option<Arc<str>>>,
    workings: Workings,
}

/// What the desk keeps about its own work.
#[derive(Default)]
struct Workings {
    answering: Answering,
    measures: Measures,
    rate: Rate,
    simulating: Simulating,
    chain: Mutex<Option<ChainChecked>>,
}

/// What came of walking the chain of the log the last time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ChainChecked {
    /// When.
    pub at: Timestamp,
    /// Whether everything is as the log says.
    pub sound: bool,
}

/// The account of an open desk.
pub const HOST: &str = "This desk";

impl Desk {
    /// Opens the desk. An open desk works as an account of its own, which it makes in a new book; nobody knows its password.
    ///
    /// # Errors
    ///
    /// The shop's folder cannot be read, its catalog holds faults, or the book refuses. An open desk is refused where the book
    /// has accounts already.
    pub async fn open(options: DeskOptions) -> Result<Self, DeskError> {
        let DeskOptions { book, shop_folder, clock, access, behind } = options;
        let shop = ShopRoom::open(shop_folder)?;
        let host = match access {
            Access::Accounts { .. } => None,
            Access::Open => Some(host_of(&book, clock()).await?),
        };
        let door = Door::new(host.is_none() && book.is_first_run().await?)?;
        let inner = Inner {
            book,
            shop,
            reviewing: Reviewing::default(),
            presence: Presence::default(),
            printing: Printing::default(),
            clock,
            access,
            behind: behind.iter().map(IpAddr::to_canonical).collect(),
            host,
            door,
            notice: RwLock::default(),
            workings: Workings::default(),
        };
        let desk = Self { inner: Arc::new(inner) };
        rereviewing::start_if_waiting(&desk, "it opened").await?;
        Ok(desk)
    }

    /// The servers that the desk believes for whom they ask.
    pub(crate) fn behind(&self) -> &[IpAddr] {
        &self.inner.behind
    }

    /// The order book.
    #[must_use]
    pub fn book(&self) -> &Book {
        &self.inner.book
    }

    /// The catalog that the desk goes by: the shipped one with the shop's own rows.
    #[must_use]
    pub fn catalog(&self) -> Arc<MarkedCatalog> {
        self.shop().catalog()
    }

    /// The shop: its catalog and what its papers say of it.
    pub(crate) fn shop(&self) -> &ShopRoom {
        &self.inner.shop
    }

    /// Where sheets are reviewed.
    pub(crate) fn reviewing(&self) -> &Reviewing {
        &self.inner.reviewing
    }

    /// Who has which order open.
    pub(crate) fn presence(&self) -> &Presence {
        &self.inner.presence
    }

    /// Where papers are set and pictures are read.
    pub(crate) fn printing(&self) -> &Printing {
        &self.inner.printing
    }

    /// What was counted about requests.
    pub(crate) fn measures(&self) -> &Measures {
        &self.inner.workings.measures
    }

    /// The requests that are being answered, to which work in the background gives way.
    pub(crate) fn answering(&self) -> &Answering {
        &self.inner.workings.answering
    }

    /// How fast one address may ask.
    pub(crate) fn rate(&self) -> &Rate {
        &self.inner.workings.rate
    }

    /// The simulations.
    pub(crate) fn simulating(&self) -> &Simulating {
        &self.inner.workings.simulating
    }

    /// Walks the chain of the log and holds the book against it; `/health` tells what came of it. A desk that serves does so when
    /// it begins and once a day, and gives way to people meanwhile.
    ///
    /// # Errors
    ///
    /// The book cannot be read.
    pub async fn check_chain(&self) -> Result<bool, DeskError> {
        let _long = self.answering().begin_long_work().await;
        let (desk, turn) = (self.clone(), Turn::default());
        let give_way = move || desk.answering().hold_up(&turn, || desk.now());
        let check = self.book().check_giving_way(None, give_way).await?;
        for fault in &check.faults {
            tracing::error!(problem = %fault, "the book is not as its log says");
        }
        let checked = ChainChecked { at: self.now(), sound: check.is_sound() };
        *self.inner.workings.chain.lock().unwrap_or_else(PoisonError::into_inner) = Some(checked);
        Ok(checked.sound)
    }

    /// What came of walking the chain the last time; none before that.
    pub(crate) fn chain(&self) -> Option<ChainChecked> {
        *self.inner.workings.chain.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The time.
    pub(crate) fn now(&self) -> Timestamp {
        (self.inner.clock)()
    }

    /// Who gets in.
    #[must_use]
    pub fn access(&self) -> Access {
        self.inner.access
    }

    /// The code that makes the first account at `/first-run`; none where there is an account, or nobody signs in. Show it only to
    /// whoever started the desk.
    #[must_use]
    pub fn first_run_code(&self) -> Option<&str> {
        self.door().code()
    }

    /// Puts a line on top of every page, or takes it away.
    pub fn set_notice(&self, notice: Option<&str>) {
        let mut told = self.inner.notice.write().unwrap_or_else(PoisonError::into_inner);
        *told = notice.map(Arc::from);
    }

    /// The line on top of every page.
    pub(crate) fn notice(&self) -> Option<Arc<str>> {
        let told = self.inner.notice.read().unwrap_or_else(PoisonError::into_inner).clone();
        let Some(trouble) = self.shop().trouble() else { return told };
        let first = trouble.lines().next().unwrap_or_default();
        let words = format!(
            "The shop's folder was changed and cannot be read as it lies there, so the desk goes by what it read before: {first}"
        );
        Some(told.map_or_else(|| words.clone(), |told| format!("{told} {words}")).into())
    }

    /// The door: who is let in, and how soon again.
    pub(crate) fn door(&self) -> &Door {
        &self.inner.door
    }

    /// The account of an open desk; none where people sign in.
    pub(crate) fn host(&self) -> Option<&Account> {
        self.inner.host.as_ref()
    }
}

async fn host_of(book: &Book, now: Timestamp) -> Result<Account, DeskError> {
    if book.is_first_run().await? {
        let mut secret = [0_u8; 32];
        getrandom::fill(&mut secret)
            .map_err(|error| DeskError::failed(format!("the operating system gives no random bytes: {error}")))?;
        let password: String = secret.iter().map(|byte| format!("{byte:02x}")).collect();
        return Ok(book.make_owner(HOST, &password, now).await?);
    }
    let accounts = book.accounts().await?;
    match accounts.as_slice() {
        [only] if only.name == HOST => Ok(only.clone()),
        _ => Err(DeskError::refused(
            "the book has accounts, so the desk does not let everybody in",
            "a desk that is started without --open, where people sign in",
        )),
    }
}
