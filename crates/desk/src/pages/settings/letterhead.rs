//! The letterhead: what the papers say of the shop.

use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use paperwork::{LogoKind, PAGE_SIZES, PAPER_UNITS};
use toml_edit::{Array, DocumentMut, value};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::shell::{self, Place};
use crate::viewer::Viewer;

/// What stands in the letterhead, as it was entered.
#[derive(Debug, Clone, Default)]
struct Entered {
    name: String,
    address: String,
    contact: String,
    terms: String,
    page_size: String,
    units: String,
    /// The text of the file that the form was made from.
    seen: String,
    without_logo: bool,
    logo: Option<(String, Vec<u8>)>,
}

/// The letterhead as the settings show it.
pub(super) fn summary(desk: &Desk, is_owner: bool) -> Markup {
    let papers = desk.shop().papers();
    let details = &papers.details;
    html! {
        section .card {
            h2 { "Letterhead" }
            p { strong { (details.name) } @for line in &details.address { br; (line) } @for line in &details.contact { br; span .soft { (line) } } }
            @match &details.logo {
                Some(file) => p { "Logo: " code { (file) } @if papers.logo.is_none() { span .fault { " (not there)" } } },
                None => p .soft { "No logo." },
            }
            p .soft { "Papers in " (details.units.and_then(|units| word_of(&PAPER_UNITS, units)).unwrap_or("the unit of the order")) ", on "
                (details.page_size.and_then(|size| word_of(&PAGE_SIZES, size)).unwrap_or("the pages that go with it")) "." }
            @if !details.terms.is_empty() { p .soft { (details.terms.len()) " terms stand on confirmations." } }
            @for warning in desk.shop().warnings() { p .notice .warn { (warning) } }
            @if is_owner { p { a .button href="/settings/letterhead" { "Change the letterhead" } } }
        }
    }
}

/// The form.
pub(super) async fn page(State(desk): State<Desk>, viewer: Viewer) -> Result<Markup, DeskError> {
    let papers = desk.shop().papers();
    let details = &papers.details;
    let entered = Entered {
        name: details.name.clone(),
        address: details.address.join("\n"),
        contact: details.contact.join("\n"),
        terms: details.terms.join("\n\n"),
        page_size: details.page_size.and_then(|size| word_of(&PAGE_SIZES, size)).unwrap_or_default().to_owned(),
        units: details.units.and_then(|units| word_of(&PAPER_UNITS, units)).unwrap_or_default().to_owned(),
        seen: desk.shop().letterhead_text(),
        ..Entered::default()
    };
    Ok(form(&viewer, &entered, details.logo.as_deref(), None))
}

/// The word for a choice.
fn word_of<T: Copy + PartialEq>(words: &[(&'static str, T)], choice: T) -> Option<&'static str> {
    words.iter().find(|(_, known)| *known == choice).map(|(word, _)| *word)
}

fn choice(name: &str, chosen: &str, words: &[&str]) -> Markup {
    html! {
        select id=(name) name=(name) {
            option value="" selected[chosen.is_empty()] { "as the order" }
            @for word in words { option value=(word) selected[*word == chosen] { (word) } }
        }
    }
}

fn form(viewer: &Viewer, entered: &Entered, logo: Option<&str>, fault: Option<(&str, &str)>) -> Markup {
    let body = html! {
        nav .trail aria-label="Place" { a href="/settings" { "Settings" } " › " }
        div .bar { h1 { "Letterhead" } }
        p .soft { "It stands on every paper, and is kept in " code { "shop.toml" } " of the shop's folder." }
        @if let Some((problem, accepted)) = fault {
            div .notice .bad role="alert" { p { strong { "Nothing was saved. " } (problem) } p { "Accepted: " (accepted) } }
        }
        form .card method="post" action="/settings/letterhead" enctype="multipart/form-data" {
            input type="hidden" name="seen" value=(entered.seen);
            div .field { label for="name" { "Name" } input #name name="name" value=(entered.name) required autocomplete="organization"; }
            div .field { label for="address" { "Address" } textarea #address name="address" rows="3" { (entered.address) } span .hint { "each line of it on a line of its own" } }
            div .field { label for="contact" { "How the shop is reached" } textarea #contact name="contact" rows="2" { (entered.contact) } span .hint { "each line of it on a line of its own" } }
            div .field { label for="terms" { "Terms" } textarea #terms name="terms" rows="6" { (entered.terms) }
                span .hint { "They stand on confirmations. An empty line begins the next." } }
            div .columns {
                div .field { label for="units" { "Units on papers" } (choice("units", &entered.units, &PAPER_UNITS.map(|(word, _)| word))) }
                div .field { label for="page_size" { "Pages" } (choice("page_size", &entered.page_size, &PAGE_SIZES.map(|(word, _)| word)))
                    span .hint { "As the order: letter where it was taken in inches, else A4." } }
            }
            div .field {
                label for="logo" { "Logo" }
                input #logo type="file" name="logo" accept=".svg,.png,.jpg,.jpeg";
                span .hint { @if let Some(logo) = logo { "At present " code { (logo) } ". " } "SVG, PNG or JPEG, up to 4 MiB. Left empty, the logo stays." }
            }
            @if logo.is_some() { p { label { input type="checkbox" name="without_logo" value="yes"; " Print without a logo" } } }
            p .bar { button .main { "Save" } a .button href="/settings" { "Back" } }
        }
    };
    shell::page(viewer, Place::Settings, "Letterhead", &body)
}

/// Takes the form in.
pub(super) async fn enter(
    State(desk): State<Desk>,
    viewer: Viewer,
    form_data: Multipart,
) -> Result<Response, DeskError> {
    let entered = read(form_data).await?;
    let papers = desk.shop().papers();
    let logo = papers.details.logo.clone();
    // Looking through a picture takes longer than a request may hold a thread.
    let text = {
        let entered = entered.clone();
        tokio::task::spawn_blocking(move || text_of(&entered))
    };
    let text = text.await.map_err(|error| DeskError::failed(format!("reading the form ended early: {error}")))?;
    let saved = match text {
        Ok((text, file)) => {
            let saving = {
                let (desk, entered) = (desk.clone(), entered.clone());
                tokio::task::spawn_blocking(move || {
                    let bytes = entered.logo.as_ref().map(|(_, bytes)| bytes.as_slice());
                    desk.shop()
                        .save_letterhead(&entered.seen, &text, file.as_deref().zip(bytes))
                        .map_err(DeskError::from)
                })
            };
            saving.await.map_err(|error| DeskError::failed(format!("saving ended early: {error}")))?
        }
        Err(error) => Err(error),
    };
    match saved {
        Ok(()) => Ok(Redirect::to("/settings").into_response()),
        Err(error) if error.status().is_server_error() => Err(error),
        Err(error) => {
            let (problem, accepted) = error.parts();
            let fault = (problem.as_str(), accepted.as_deref().unwrap_or_default());
            Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&viewer, &entered, logo.as_deref(), Some(fault)))
                .into_response())
        }
    }
}

async fn read(mut form: Multipart) -> Result<Entered, DeskError> {
    let broken = |error: axum::extract::multipart::MultipartError| {
        DeskError::refused(format!("the form did not arrive whole: {error}"), "a logo of at most 4 MiB")
    };
    let mut entered = Entered::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let key = field.name().unwrap_or_default().to_owned();
        if key == "logo" {
            let name = field.file_name().unwrap_or_default().to_owned();
            let bytes = field.bytes().await.map_err(broken)?;
            if !bytes.is_empty() {
                entered.logo = Some((name, bytes.to_vec()));
            }
            continue;
        }
        // A form with a file in it ends its lines as mail does.
        let text = field.text().await.map_err(broken)?.replace("\r\n", "\n");
        match key.as_str() {
            "name" => entered.name = text,
            "address" => entered.address = text,
            "contact" => entered.contact = text,
            "terms" => entered.terms = text,
            "page_size" => entered.page_size = text,
            "units" => entered.units = text,
            "seen" => entered.seen = text,
            "without_logo" => entered.without_logo = text == "yes",
            _ => {}
        }
    }
    Ok(entered)
}

/// The text of `shop.toml` with what was entered, and the name under which a new logo is kept.
fn text_of(entered: &Entered) -> Result<(String, Option<String>), DeskError> {
    let refuse = |problem: String, accepted: &str| DeskError::refused(problem, accepted);
    let mut document: DocumentMut = entered.seen.parse().map_err(|error: toml_edit::TomlError| {
        refuse(format!("shop.toml cannot be read: {error}"), "a text file in TOML")
    })?;
    if entered.name.trim().is_empty() {
        return Err(refuse("the shop has no name".to_owned(), "the name that stands on its papers"));
    }
    set(&mut document, "name", value(entered.name.trim()));
    let lines = |text: &str| -> Vec<String> {
        text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
    };
    let paragraphs: Vec<String> = entered
        .terms
        .split("\n\n")
        .map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "))
        .filter(|part| !part.is_empty())
        .collect();
    for (key, list) in
        [("address", lines(&entered.address)), ("contact", lines(&entered.contact)), ("terms", paragraphs)]
    {
        let stands: Vec<String> = document
            .get(key)
            .and_then(|item| item.as_array())
            .map(|list| list.iter().filter_map(|one| one.as_str().map(str::to_owned)).collect())
            .unwrap_or_default();
        if stands == list {
            continue;
        }
        if list.is_empty() {
            document.remove(key);
        } else {
            set(&mut document, key, value(list.into_iter().collect::<Array>()));
        }
    }
    for (key, word) in [("page_size", &entered.page_size), ("units", &entered.units)] {
        if word.is_empty() {
            document.remove(key);
        } else {
            set(&mut document, key, value(word.as_str()));
        }
    }
    let mut file = None;
    if let Some((name, bytes)) = &entered.logo {
        file = Some(logo_name(name, bytes)?);
    } else if entered.without_logo {
        document.remove("logo");
    }
    if let Some(file) = &file {
        set(&mut document, "logo", value(file.as_str()));
    }
    Ok((document.to_string(), file))
}

/// Sets a key and leaves the layout of its line as it was.
fn set(document: &mut DocumentMut, key: &str, new: toml_edit::Item) {
    match (document.get_mut(key).and_then(toml_edit::Item::as_value_mut), new.into_value()) {
        (Some(old), Ok(new)) => {
            let decor = old.decor().clone();
            *old = new;
            *old.decor_mut() = decor;
        }
        (None, Ok(new)) => {
            document.insert(key, value(new));
        }
        _ => {}
    }
}

/// The name under which a logo is kept: nothing of the name that came with it but its end.
fn logo_name(name: &str, bytes: &[u8]) -> Result<String, DeskError> {
    let kind = LogoKind::of_file(name).ok_or_else(|| {
        DeskError::refused(format!("{name:?} does not say a format that can be printed"), shop_folder::LOGO_ACCEPTED)
    })?;
    shop_folder::check_logo(kind, bytes).map_err(|problem| DeskError::refused(problem, shop_folder::LOGO_ACCEPTED))?;
    Ok(match kind {
        LogoKind::Svg => "logo.svg",
        LogoKind::Png => "logo.png",
        LogoKind::Jpeg => "logo.jpg",
    }
    .to_owned())
}
