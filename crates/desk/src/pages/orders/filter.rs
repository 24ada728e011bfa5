//! What the list is to show, as it stands in the address.

use book::{Cursor, Judgement, ListRequest, SavedView, Sort, State};
use maud::{Markup, html};
use serde::Deserialize;

use crate::error::DeskError;
use crate::shell::query_encoded;

/// The filter in the address of the list. States and verdicts stand in one word each, parted by commas.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default)]
pub(super) struct Filter {
    search: String,
    state: String,
    verdict: String,
    sort: String,
    from: String,
}

/// A view that is kept or dropped.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct NamedView {
    /// Its name.
    pub name: String,
    #[serde(default)]
    search: String,
    #[serde(default)]
    state: String,
    #[serde(default)]
    verdict: String,
    #[serde(default)]
    sort: String,
}

const LAST_CHANGED: &str = "changed";

/// Said in the address, since the list that nobody has asked anything of is in another order.
const NEWEST: &str = "newest";

impl Filter {
    /// What the book is asked for.
    ///
    /// # Errors
    ///
    /// A state, a verdict or a place in the list is none.
    pub fn request(&self) -> Result<ListRequest, DeskError> {
        Ok(ListRequest {
            search: self.search.clone(),
            states: words(&self.state).map(State::read).collect::<Result<_, _>>()?,
            judgements: words(&self.verdict).map(Judgement::read).collect::<Result<_, _>>()?,
            sort: if self.sort == LAST_CHANGED { Sort::LastChanged } else { Sort::Newest },
            after: if self.from.is_empty() { None } else { Some(Cursor::read(&self.from)?) },
            ..ListRequest::default()
        })
    }

    /// The filter of a saved view.
    pub fn of_view(view: &SavedView) -> Self {
        let request = &view.request;
        Self {
            search: request.search.clone(),
            state: joined(request.states.iter().map(|state| state.key())),
            verdict: joined(request.judgements.iter().map(|one| one.words())),
            sort: if request.sort == Sort::LastChanged { LAST_CHANGED.to_owned() } else { String::new() },
            from: String::new(),
        }
    }

    /// Whether nobody has asked for anything.
    pub fn is_untouched(&self) -> bool {
        *self == Self::default()
    }

    /// Whether it leaves nothing out.
    pub fn is_plain(&self) -> bool {
        self.search.trim().is_empty() && self.state.is_empty() && self.verdict.is_empty()
    }

    /// Whether something is searched for.
    pub fn searches(&self) -> bool {
        !self.search.trim().is_empty()
    }

    /// The states that are wanted.
    pub fn states(&self) -> Vec<State> {
        words(&self.state).filter_map(|word| State::read(word).ok()).collect()
    }

    /// The verdicts that are wanted.
    pub fn judgements(&self) -> Vec<Judgement> {
        words(&self.verdict).filter_map(|word| Judgement::read(word).ok()).collect()
    }

    /// The address of the list with this filter.
    pub fn address(&self) -> String {
        let parts: Vec<String> = [
            ("search", &self.search),
            ("state", &self.state),
            ("verdict", &self.verdict),
            ("sort", &self.sort),
            ("from", &self.from),
        ]
        .into_iter()
        .filter(|(_, value)| !value.is_empty())
        .map(|(name, value)| format!("{name}={}", query_encoded(value)))
        .collect();
        if parts.is_empty() { "/".to_owned() } else { format!("/?{}", parts.join("&")) }
    }

    /// The address of the page that begins there.
    pub fn address_from(&self, cursor: &str) -> String {
        Self { from: cursor.to_owned(), ..self.clone() }.address()
    }

    /// The address without a choice of states.
    pub fn without_states(&self) -> String {
        Self { state: String::new(), from: String::new(), ..self.clone() }.address()
    }

    /// The address with a state chosen, or no longer chosen.
    pub fn with_state(&self, state: State) -> String {
        Self { state: toggled(&self.state, state.key()), from: String::new(), ..self.clone() }.address()
    }

    /// The address with a verdict chosen, or no longer chosen.
    pub fn with_judgement(&self, judgement: Judgement) -> String {
        Self { verdict: toggled(&self.verdict, judgement.words()), from: String::new(), ..self.clone() }.address()
    }

    /// The word of the order that the list is in; none where it goes by what is to be done.
    fn sorted(&self) -> Option<&str> {
        match self.sort.as_str() {
            _ if self.is_untouched() => None,
            LAST_CHANGED => Some(LAST_CHANGED),
            _ => Some(NEWEST),
        }
    }

    fn with_sort(&self, sort: &str) -> String {
        Self { sort: sort.to_owned(), from: String::new(), ..self.clone() }.address()
    }
}

impl NamedView {
    /// The filter of the view.
    pub fn filter(&self) -> Filter {
        Filter {
            search: self.search.clone(),
            state: self.state.clone(),
            verdict: self.verdict.clone(),
            sort: self.sort.clone(),
            from: String::new(),
        }
    }

    /// The view for the book.
    ///
    /// # Errors
    ///
    /// As for [`Filter::request`].
    pub fn view(&self) -> Result<SavedView, DeskError> {
        Ok(SavedView { name: self.name.clone(), request: self.filter().request()? })
    }
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(',').map(str::trim).filter(|word| !word.is_empty())
}

fn joined<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(",")
}

fn toggled(text: &str, word: &str) -> String {
    if words(text).any(|one| one == word) {
        joined(words(text).filter(|one| *one != word))
    } else {
        joined(words(text).chain([word]))
    }
}

/// The search, which answers while one types.
pub(super) fn search_form(filter: &Filter) -> Markup {
    html! {
        search {
            form .search method="get" action="/" data-swap="list" {
                label .unseen for="search" { "Search orders" }
                input #search type="search" name="search" value=(filter.search) autocomplete="off" data-key="/"
                    aria-describedby="search-hint";
                @for (name, value) in [("state", &filter.state), ("verdict", &filter.verdict), ("sort", &filter.sort)] {
                    @if !value.is_empty() { input type="hidden" name=(name) value=(value); }
                }
                button { "Search" }
                p .hint #search-hint { "A reference, a customer, a vehicle, a part, or a size: " code { "Q-0102" } ", " code { "shoulder 2.85" } "." }
            }
        }
    }
}

/// The saved views, and the forms to keep this one or drop one.
pub(super) fn views(filter: &Filter, views: &[SavedView]) -> Markup {
    let sorts = [(NEWEST, "newest first"), (LAST_CHANGED, "last changed first")];
    html! {
        div .views {
            span .order {
                @if filter.is_untouched() { span .by-need { "by what is to be done" } }
                @else if filter.is_plain() { a href="/" { "by what is to be done" } }
                @for (word, words) in sorts {
                    a href=(filter.with_sort(word)) aria-current=[(filter.sorted() == Some(word)).then_some("true")] { (words) }
                }
            }
            @if !views.is_empty() {
                ul aria-label="Saved views" {
                    @for view in views {
                        li {
                            a href=(Filter::of_view(view).address()) { (view.name) }
                            form method="post" action="/views/drop" {
                                input type="hidden" name="name" value=(view.name);
                                button .quiet aria-label={ "Drop the view " (view.name) } { "×" }
                            }
                        }
                    }
                }
            }
            @if !filter.is_plain() {
                form .keep method="post" action="/views" {
                    label for="view-name" { "Keep this view as" }
                    input #view-name name="name" required maxlength="60";
                    @for (name, value) in
                        [("search", &filter.search), ("state", &filter.state), ("verdict", &filter.verdict), ("sort", &filter.sort)] {
                        input type="hidden" name=(name) value=(value);
                    }
                    button .quiet { "Keep" }
                }
            }
        }
    }
}
