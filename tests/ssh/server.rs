//! A server of OpenSSH on the loopback address: settings, keys and port of its own, in a folder
//! that goes with it. It runs as whoever runs the tests, and lets only them in.

use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use crate::pty::{Session, TODAY};

const PATIENCE: Duration = Duration::from_secs(60);

/// One server at a time: two that look for a free port at once may find the same.
static ALONE: Mutex<()> = Mutex::new(());

/// A server and the folder of all that belongs to it.
pub(crate) struct Server {
    folder: tempfile::TempDir,
    port: u16,
    child: Child,
    /// Given back last, when the server is gone.
    _alone: MutexGuard<'static, ()>,
}

/// Runs a program to its end.
fn run(program: &str, args: &[&str]) -> String {
    let done = Command::new(program).args(args).output();
    let done = done.unwrap_or_else(|error| panic!("{program} cannot be run ({error})"));
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{program} {args:?}: {said}");
    String::from_utf8_lossy(&done.stdout).trim().to_owned()
}

/// Where the server is: it insists on being called by its whole path.
fn program() -> &'static Path {
    let known = ["/usr/sbin/sshd", "/usr/local/sbin/sshd"];
    let found = known.into_iter().map(Path::new).find(|path| path.is_file());
    found.unwrap_or_else(|| {
        panic!("there is no server: install openssh-server, or leave these tests out")
    })
}

/// A port that nobody uses at the moment.
fn free_port() -> u16 {
    let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a port");
    listener.local_addr().expect("its number").port()
}

impl Server {
    /// Starts it.
    pub(crate) fn start() -> Self {
        // A test that failed leaves nothing behind that the next one needs.
        let alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
        let program = program();
        let folder = tempfile::tempdir().expect("a folder");
        let key = |name: &str| {
            let path = folder.path().join(name);
            let path = path.to_string_lossy().into_owned();
            run(
                "ssh-keygen",
                &["-q", "-t", "ed25519", "-N", "", "-f", &path],
            );
            path
        };
        let (host, own) = (key("host"), key("own"));
        // Whoever is root must find the folder into which the server locks its helper.
        if rustix::process::geteuid().is_root() {
            std::fs::create_dir_all("/run/sshd").expect("the folder of the server");
        }
        let port = free_port();
        let settings = format!(
            "Port {port}\nListenAddress 127.0.0.1\nHostKey {host}\nAuthorizedKeysFile {own}.pub\n\
             PidFile none\nUsePAM no\nStrictModes no\nPasswordAuthentication no\n\
             KbdInteractiveAuthentication no\nPermitRootLogin prohibit-password\n\
             PrintMotd no\nPrintLastLog no\n"
        );
        let file = folder.path().join("settings");
        std::fs::write(&file, settings).expect("written");
        let log = std::fs::File::create(folder.path().join("log")).expect("a log");
        let child = Command::new(program)
            .args(["-D", "-e", "-f"])
            .arg(&file)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(log)
            .spawn()
            .expect("the server starts");
        let mut server = Self {
            folder,
            port,
            child,
            _alone: alone,
        };
        server.wait_until_there();
        server
    }

    fn wait_until_there(&mut self) {
        let end = Instant::now() + PATIENCE;
        while TcpStream::connect(("127.0.0.1", self.port)).is_err() {
            let ended = self.child.try_wait().expect("a child");
            let log = self.read("log");
            assert!(ended.is_none() && Instant::now() < end, "no server: {log}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Opens the program at the other end of a new connection.
    pub(crate) fn open(&self, args: &[&str]) -> Session {
        let path = |name: &str| self.folder.path().join(name).display().to_string();
        let quoted: Vec<String> = args.iter().map(|arg| format!("'{arg}'")).collect();
        // A shell of its own: the login shell may be any.
        let line = format!(
            "exec env HOME='{home}' XDG_STATE_HOME='{home}' XDG_CONFIG_HOME='{home}' LANG=C.UTF-8 GANTRYWRIGHT_TODAY={TODAY} '{program}' {args}",
            home = path("home"),
            program = env!("CARGO_BIN_EXE_gantrywright"),
            args = quoted.join(" "),
        );
        let (port, known) = (self.port.to_string(), path("known"));
        let user = run("id", &["-un"]);
        let known = format!("UserKnownHostsFile={known}");
        let own = path("own");
        let args = [
            "-tt",
            "-F",
            "none",
            "-i",
            &own,
            "-p",
            &port,
            "-l",
            &user,
            "-o",
            "IdentitiesOnly=yes",
            "-o",
            "BatchMode=yes",
            "-o",
            "StrictHostKeyChecking=no",
            "-o",
            "LogLevel=ERROR",
            "-o",
            &known,
            "127.0.0.1",
            &line,
        ];
        Session::run("/usr/bin/ssh", &args, &[])
    }

    /// Writes a file at the other end; where it is.
    pub(crate) fn write(&self, name: &str, text: &str) -> String {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).expect("written");
        path.display().to_string()
    }

    /// Reads a file at the other end.
    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.path().join(name)).expect("a file")
    }

    /// The recovery journals at the other end.
    pub(crate) fn journals(&self) -> Vec<PathBuf> {
        let folder = self.folder.path().join("home/gantrywright/recovery");
        let Ok(entries) = std::fs::read_dir(folder) else {
            return Vec::new();
        };
        let paths = entries.map(|entry| entry.expect("an entry").path());
        let ends = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "jsonl");
        paths.filter(ends).collect()
    }

    /// Waits until no program runs at the other end any more: every process that has a file of
    /// this server's folder among its arguments has ended.
    pub(crate) fn wait_for_no_program(&self) {
        let mark = format!("{}/shed.toml", self.folder.path().display());
        let end = Instant::now() + PATIENCE;
        while runs(&mark) {
            assert!(Instant::now() < end, "the program runs on without a line");
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

/// Whether a process runs the program with this argument.
fn runs(mark: &str) -> bool {
    let processes = std::fs::read_dir("/proc").expect("processes");
    processes.filter_map(Result::ok).any(|process| {
        let args = std::fs::read(process.path().join("cmdline")).unwrap_or_default();
        let mut args = args.split(|byte| *byte == 0);
        let program = args.next().unwrap_or_default();
        program.ends_with(b"gantrywright") && args.any(|arg| arg == mark.as_bytes())
    })
}

impl Drop for Server {
    fn drop(&mut self) {
        // What serves a connection ends with it.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
