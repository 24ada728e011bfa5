//! What a person does with a page and sees on it. Everything waits until it can be done.

use serde_json::{Value, json};
use thirtyfour::{By, Key, WebDriver, WebElement};

use crate::orders::PASSWORD;
use crate::program::Program;
use crate::waiting::answer;

/// The width of a small phone in CSS pixels.
pub const PHONE: u32 = 390;

/// A window of the browser.
#[derive(Clone)]
pub struct Page {
    driver: WebDriver,
}

impl Page {
    /// A page in this session.
    pub fn new(driver: WebDriver) -> Self {
        Self { driver }
    }

    /// Opens an address.
    pub async fn open(&self, address: &str) {
        self.driver.goto(address).await.unwrap_or_else(|error| panic!("{address} does not open: {error}"));
    }

    /// Signs somebody in; the desk then shows its list.
    pub async fn sign_in(&self, desk: &Program, name: &str) {
        self.open(&desk.at("/sign-in")).await;
        self.fill("Name", name).await;
        self.fill("Password", PASSWORD).await;
        self.press("Sign in").await;
        self.until("somebody is signed in", || async { self.sees(".who a[href='/account']").await }).await;
    }

    /// Loads the page again.
    pub async fn reload(&self) {
        self.driver.refresh().await.unwrap();
    }

    /// Path and query of the page.
    pub async fn path(&self) -> String {
        let address = self.driver.current_url().await.unwrap();
        address.query().map_or_else(|| address.path().to_owned(), |query| format!("{}?{query}", address.path()))
    }

    /// The first element that can be seen.
    pub async fn see(&self, css: &str) -> WebElement {
        let found = answer(|| async { self.first_seen(By::Css(css)).await }).await;
        match found {
            Some(element) => element,
            None => panic!("nothing can be seen at {css} on {}", self.told().await),
        }
    }

    /// Whether an element can be seen now.
    pub async fn sees(&self, css: &str) -> bool {
        self.first_seen(By::Css(css)).await.is_some()
    }

    /// Whether an element is there, be it seen or not.
    pub async fn has(&self, css: &str) -> bool {
        self.driver.find(By::Css(css)).await.is_ok()
    }

    /// Clicks everything that matches.
    pub async fn click_all(&self, css: &str) {
        for element in self.driver.find_all(By::Css(css)).await.unwrap() {
            element.click().await.unwrap();
        }
    }

    /// The words of everything that matches.
    pub async fn words(&self, css: &str) -> Vec<String> {
        let mut words = Vec::new();
        for element in self.driver.find_all(By::Css(css)).await.unwrap_or_default() {
            words.push(element.text().await.unwrap_or_default());
        }
        words
    }

    /// Waits until the page shows these words.
    pub async fn reads(&self, words: &str) {
        self.until(&format!("the page reads {words:?}"), || async { self.body().await.contains(words) }).await;
    }

    /// Waits until something is so.
    pub async fn until<F: Future<Output = bool>>(&self, what: &str, mut ask: impl FnMut() -> F) {
        let so = answer(|| {
            let asked = ask();
            async move { asked.await.then_some(()) }
        })
        .await;
        if so.is_none() {
            panic!("waited in vain until {what}; {}", self.told().await);
        }
    }

    /// Clicks what can be seen at a place.
    pub async fn click(&self, css: &str) {
        self.click_at(By::Css(css), css).await;
    }

    /// Clicks what can be seen at an XPath.
    pub async fn click_path(&self, path: &str) {
        self.click_at(By::XPath(path), path).await;
    }

    /// Clicks the button or the way that bears these words.
    pub async fn press(&self, words: &str) {
        let quoted = quoted(words);
        let path = format!(
            "//button[normalize-space()={quoted} or @aria-label={quoted}] | //a[normalize-space()={quoted} or @aria-label={quoted}] \
             | //summary[normalize-space()={quoted}] | //input[@type='submit' and @value={quoted}]"
        );
        self.click_at(By::XPath(path.as_str()), words).await;
    }

    /// The field whose label begins with these words.
    pub async fn field(&self, label: &str) -> WebElement {
        let quoted = quoted(label);
        let path = format!(
            "//*[(self::input or self::select or self::textarea) and (@aria-label={quoted} \
             or @id=//label[starts-with(normalize-space(), {quoted})]/@for)] \
             | //label[starts-with(normalize-space(), {quoted})]//*[self::input or self::select or self::textarea]"
        );
        let found = answer(|| async { self.first_seen(By::XPath(path.as_str())).await }).await;
        match found {
            Some(element) => element,
            None => panic!("there is no field {label:?} on {}", self.told().await),
        }
    }

    /// What stands in the field with this label.
    pub async fn value(&self, label: &str) -> String {
        self.field(label).await.prop("value").await.unwrap().unwrap_or_default()
    }

    /// Chooses in the field with this label, by typing the words of the choice.
    pub async fn choose(&self, label: &str, words: &str) {
        self.field(label).await.send_keys(words).await.unwrap();
    }

    /// Writes into the field with this label, in place of what stands there.
    pub async fn fill(&self, label: &str, text: &str) {
        let field = self.field(label).await;
        field.clear().await.unwrap();
        field.send_keys(text).await.unwrap();
    }

    /// The words of what the keyboard is at.
    pub async fn focused(&self) -> String {
        self.driver.active_element().await.unwrap().text().await.unwrap()
    }

    /// Presses keys, wherever the keyboard is.
    pub async fn keys(&self, keys: impl AsRef<str>) {
        let element = self.driver.active_element().await.unwrap();
        element.send_keys(keys.as_ref()).await.unwrap();
    }

    /// Presses one key that writes nothing.
    pub async fn key(&self, key: Key) {
        self.keys(key.value().to_string()).await;
    }

    /// Asks the page by script; not where scripts are blocked.
    pub async fn ask(&self, script: &str) -> Value {
        let answer = self.driver.execute(script, Vec::new()).await;
        answer.unwrap_or_else(|error| panic!("{script}: {error}")).json().clone()
    }

    /// As for [`Page::ask`]; the script calls its last argument when it is done.
    pub async fn ask_later(&self, script: &str, arguments: Vec<Value>) -> Value {
        let answer = self.driver.execute_async(script, arguments).await;
        answer.unwrap_or_else(|error| panic!("{script}: {error}")).json().clone()
    }

    /// Runs a script in every page that is opened from now on, before its own.
    pub async fn run_everywhere(&self, script: &str) {
        self.driver.cdp().page().add_script_to_evaluate_on_new_document(script).await.unwrap();
    }

    /// Gives the window a width and a height; one that is no wider than a phone behaves as a phone.
    pub async fn width(&self, width: u32, height: u32) {
        let emulation = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width <= PHONE });
        self.driver.cdp().send_raw("Emulation.setDeviceMetricsOverride", emulation).await.unwrap();
    }

    /// Asks for dark pages, or for light ones.
    pub async fn dark(&self, dark: bool) {
        let wanted = if dark { "dark" } else { "light" };
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": wanted }] });
        self.driver.cdp().send_raw("Emulation.setEmulatedMedia", media).await.unwrap();
    }

    /// Gives the window this width and makes it so high that the whole page is in it, so that nothing that sticks to its edge lies
    /// over something else.
    pub async fn whole(&self, width: u32) {
        self.width(width, 1000).await;
        let height = self.ask("return Math.max(document.documentElement.scrollHeight, 600)").await.as_u64().unwrap();
        self.width(width, u32::try_from(height).unwrap()).await;
    }

    /// A picture of what is in the window, as PNG.
    pub async fn picture(&self) -> Vec<u8> {
        self.driver.screenshot_as_png().await.unwrap()
    }

    /// Everything that the page says.
    pub async fn body(&self) -> String {
        match self.driver.find(By::Tag("body")).await {
            Ok(body) => body.text().await.unwrap_or_default(),
            Err(_) => String::new(),
        }
    }

    async fn first_seen(&self, by: By) -> Option<WebElement> {
        for element in self.driver.find_all(by).await.ok()? {
            if element.is_displayed().await.unwrap_or(false) {
                return Some(element);
            }
        }
        None
    }

    /// A page may move or be taken over while one clicks, and something may stick to its edge and lie over what is wanted. Then
    /// that is scrolled to the middle, as a person would, and the click is tried again.
    async fn click_at(&self, by: By, name: &str) {
        let clicked = answer(|| {
            let by = by.clone();
            async move {
                let element = self.first_seen(by).await?;
                if element.click().await.is_ok() {
                    return Some(());
                }
                // It may be gone by now; then the next attempt finds its successor.
                let _ = element.scroll_into_view().await;
                None
            }
        });
        if clicked.await.is_none() {
            panic!("{name:?} cannot be clicked on {}", self.told().await);
        }
    }

    /// For messages: where one is and what is there.
    async fn told(&self) -> String {
        format!("{}, which reads:\n{}", self.path().await, self.body().await)
    }
}

/// A text as XPath writes it.
fn quoted(text: &str) -> String {
    if text.contains('\'') { format!("\"{text}\"") } else { format!("'{text}'") }
}
