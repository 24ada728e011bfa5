//! Chromium without a screen, driven through `chromedriver`.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use tempfile::TempDir;
use thirtyfour::{ChromiumLikeCapabilities, DesiredCapabilities, WebDriver};
use tokio::sync::{Semaphore, SemaphorePermit};

use crate::page::Page;
use crate::waiting::answer;

/// No more than so many tests have a browser open; each takes some hundred megabytes.
static PLACES: Semaphore = Semaphore::const_new(2);

/// What Chromium is started with: nothing that is for a screen, for a user's comfort, or for the network.
const ARGUMENTS: [&str; 14] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-default-apps",
    "--disable-extensions",
    "--disable-sync",
    "--force-device-scale-factor=1",
    "--window-size=1400,1000",
];

/// Whether pages may run scripts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scripts {
    /// They run.
    Run,
    /// They are blocked.
    Blocked,
}

/// A running `chromedriver` with its sessions. Whatever it started is ended when it goes out of scope.
pub struct Browser {
    sessions: Vec<WebDriver>,
    driver: Child,
    address: String,
    folder: TempDir,
    _place: SemaphorePermit<'static>,
}

impl Browser {
    /// Starts the driver, which picks a free port by itself.
    pub async fn start() -> Self {
        let place = PLACES.acquire().await.unwrap();
        let folder = tempfile::tempdir().unwrap();
        let (driver, port) = start_driver(folder.path()).await;
        let address = format!("http://127.0.0.1:{port}");
        Self { sessions: Vec::new(), driver, address, folder, _place: place }
    }

    /// A new window with cookies and storage of its own.
    pub async fn window(&mut self, scripts: Scripts) -> Page {
        let mut capabilities = DesiredCapabilities::chrome();
        for argument in ARGUMENTS {
            capabilities.add_arg(argument).unwrap();
        }
        let profile = self.folder.path().join(format!("profile-{}", self.sessions.len()));
        capabilities.add_arg(&format!("--user-data-dir={}", profile.display())).unwrap();
        if scripts == Scripts::Blocked {
            capabilities.add_arg("--blink-settings=scriptEnabled=false").unwrap();
        }
        let session = WebDriver::new(&self.address, capabilities).await;
        let session = session.unwrap_or_else(|error| panic!("Chromium does not start: {error}\n{}", self.log()));
        self.sessions.push(session.clone());
        Page::new(session)
    }

    /// Ends the windows. What is left over is ended when the browser goes out of scope.
    pub async fn close(mut self) {
        for session in self.sessions.drain(..) {
            session.quit().await.unwrap();
        }
    }

    fn log(&self) -> String {
        fs::read_to_string(log_in(self.folder.path())).unwrap_or_default()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        // Chromium outlives its driver where a test failed; its processes name the folder of this browser.
        for process in processes_that_name(self.folder.path()) {
            let _ = Command::new("kill").arg("-9").arg(process).stderr(Stdio::null()).status();
        }
    }
}

/// Starts the driver and gives back its port. It takes any port for the newer protocol of the network and wants the same for the
/// older one; where somebody has that already, it gives up and is started once more.
async fn start_driver(folder: &Path) -> (Child, u16) {
    const ATTEMPTS: usize = 8;
    let log = log_in(folder);
    let told = || fs::read_to_string(&log).unwrap_or_default();
    for _ in 0..ATTEMPTS {
        let printed = File::create(&log).unwrap();
        let mut driver = Command::new("chromedriver")
            .arg("--port=0")
            .env("HOME", folder)
            .env("TMPDIR", folder)
            .stdin(Stdio::null())
            .stdout(printed.try_clone().unwrap())
            .stderr(printed)
            .spawn()
            .unwrap_or_else(|error| panic!("chromedriver: {error}; install Debian's chromium and chromium-driver"));
        let port = answer(|| async {
            let told = told();
            port_in(&told).map(Some).or_else(|| told.contains("Exiting").then_some(None))
        })
        .await;
        match port.flatten() {
            Some(port) => return (driver, port),
            None => {
                let _ = driver.kill();
                let _ = driver.wait();
            }
        }
    }
    panic!("chromedriver did not start: {}", told());
}

fn log_in(folder: &Path) -> PathBuf {
    folder.join("chromedriver.log")
}

/// The port in `ChromeDriver was started successfully on port 41235.`
fn port_in(log: &str) -> Option<u16> {
    let (_, rest) = log.split_once("started successfully on port ")?;
    rest.split_once('.')?.0.parse().ok()
}

/// The numbers of the processes whose command line holds a path.
fn processes_that_name(folder: &Path) -> Vec<String> {
    let wanted = folder.display().to_string();
    let Ok(entries) = fs::read_dir("/proc") else { return Vec::new() };
    entries
        .filter_map(Result::ok)
        .filter(|entry| {
            fs::read(entry.path().join("cmdline")).is_ok_and(|line| String::from_utf8_lossy(&line).contains(&wanted))
        })
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| name.bytes().all(|byte| byte.is_ascii_digit()))
        .collect()
}
