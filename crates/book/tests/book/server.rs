//! A PostgreSQL of the tests' own: made in a new folder, reached through a socket in it, gone when the tests end.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, OnceLock};

/// Runs until its standard input closes, which happens when the tests end, however they end. The server sorts by the rules of a
/// language and not by bytes, as servers in shops do, so that nothing in the book can rely on the order of bytes by chance.
const SCRIPT: &str = r#"
folder=$1
initdb -D "$folder/data" -U desk -A trust -E UTF8 --locale=C.UTF-8 --locale-provider=icu --icu-locale=en >"$folder/initdb.log" 2>&1 ||
    { cat "$folder/initdb.log"; exit 1; }
while true; do
    postgres -D "$folder/data" -k "$folder" -p "$2" -c max_connections=60 $3 >"$folder/postgres.log" 2>&1 &
    server=$!
    tries=0
    until pg_isready -q -h "$folder" -p "$2" -U desk -d postgres; do
        tries=$((tries + 1))
        if [ "$tries" -gt 300 ]; then cat "$folder/postgres.log"; exit 1; fi
        sleep 0.1
    done
    echo ready
    # Every line is an order to die at once; the end of the lines is the end of the tests.
    read -r _ || break
    kill -KILL "$server"
    wait "$server" 2>/dev/null
    echo dead
    read -r _ || break
done
kill -INT "$server" 2>/dev/null
wait "$server"
rm -rf "$folder"
"#;

/// A server that runs.
#[derive(Debug)]
pub struct Server {
    folder: PathBuf,
    port: u16,
    /// Held so that its standard input stays open, and with it what it says.
    script: Mutex<(Child, BufReader<ChildStdout>)>,
}

/// Waits until the script says a word.
fn wait_for(word: &str, lines: &mut BufReader<ChildStdout>) {
    let mut said = String::new();
    while said.lines().last() != Some(word) {
        let read = lines.read_line(&mut said).unwrap();
        assert!(read > 0, "PostgreSQL does not start:\n{said}");
    }
}

impl Server {
    /// Starts a server that only its socket leads to.
    pub fn start() -> Self {
        Self::start_with(5432, |_| "-c listen_addresses=".to_owned())
    }

    /// Starts a server with a port and options of its own; files that these name may be put into its folder first.
    pub fn start_with(port: u16, prepare: impl FnOnce(&Path) -> String) -> Self {
        let programs = programs();
        let folder = tempfile::Builder::new().prefix("axlewright-postgres-").tempdir().unwrap().keep();
        let options = prepare(&folder);
        let as_root = Command::new("id").arg("-u").output().unwrap().stdout == b"0\n";
        let mut command = if as_root {
            // The server refuses to run as root; Debian's package makes this user.
            let owned = Command::new("chown").args(["-R", "postgres"]).arg(&folder).status().unwrap();
            assert!(
                owned.success(),
                "the folder cannot be given to the user postgres; is Debian's postgresql installed?"
            );
            let mut command = Command::new("runuser");
            command.args(["-u", "postgres", "--", "sh"]);
            command
        } else {
            Command::new("sh")
        };
        let path = format!("{}:{}", programs.display(), std::env::var("PATH").unwrap_or_default());
        let mut script = command
            .args(["-c", SCRIPT, "sh"])
            .arg(&folder)
            .arg(port.to_string())
            .arg(options)
            .env("PATH", path)
            .current_dir("/")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(script.stdout.take().unwrap());
        wait_for("ready", &mut lines);
        Self { folder, port, script: Mutex::new((script, lines)) }
    }

    /// The address of a new, empty database.
    pub async fn new_database(&self) -> String {
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let name = format!("book_{}", NUMBER.fetch_add(1, Ordering::Relaxed));
        let mut connection = self.connect("postgres").await;
        sqlx::raw_sql(sqlx::AssertSqlSafe(format!("CREATE DATABASE {name}"))).execute(&mut connection).await.unwrap();
        sqlx::Connection::close(connection).await.unwrap();
        self.address(&name)
    }

    /// The address of a database.
    pub fn address(&self, name: &str) -> String {
        format!("postgres://desk@localhost:{}/{name}?host={}", self.port, self.folder.display())
    }

    /// Kills the server with SIGKILL, in the middle of whatever it does.
    pub fn kill(&self) {
        let mut script = self.script.lock().unwrap();
        script.0.stdin.as_mut().unwrap().write_all(b"\n").unwrap();
        wait_for("dead", &mut script.1);
    }

    /// Starts it once more over the same files.
    pub fn start_again(&self) {
        let mut script = self.script.lock().unwrap();
        script.0.stdin.as_mut().unwrap().write_all(b"\n").unwrap();
        wait_for("ready", &mut script.1);
    }

    /// Waits until the server's own log says something.
    pub async fn until_said(&self, words: &str) {
        let log = self.folder.join("postgres.log");
        for _ in 0..300 {
            if std::fs::read_to_string(&log).unwrap().contains(words) {
                return;
            }
            tokio::time::sleep(std::time::Duration::from_millis(100)).await;
        }
        panic!("PostgreSQL never said {words:?}");
    }

    async fn connect(&self, name: &str) -> sqlx::PgConnection {
        use sqlx::Connection;
        sqlx::PgConnection::connect(&self.address(name)).await.unwrap()
    }
}

/// The server that all tests of this process share.
pub fn shared() -> &'static Server {
    static SERVER: OnceLock<Server> = OnceLock::new();
    SERVER.get_or_init(Server::start)
}

/// The folder with the server's programs: that of the newest version, where Debian puts them.
fn programs() -> PathBuf {
    let versions = Path::new("/usr/lib/postgresql");
    let mut found: Vec<(u32, PathBuf)> = std::fs::read_dir(versions)
        .into_iter()
        .flatten()
        .filter_map(|entry| {
            let folder = entry.ok()?.path();
            let version = folder.file_name()?.to_str()?.parse().ok()?;
            let programs = folder.join("bin");
            programs.join("initdb").is_file().then_some((version, programs))
        })
        .collect();
    found.sort();
    match found.pop() {
        Some((_, programs)) => programs,
        None => panic!("PostgreSQL is not here; ./test installs it: apt-get install postgresql"),
    }
}
