//! Linux, macOS and their kin.

use std::fs::{DirBuilder, File, Metadata, OpenOptions, Permissions};
use std::io;
use std::os::unix::fs::{DirBuilderExt, FileTypeExt, MetadataExt, OpenOptionsExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, Command};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use rustix::process::{
    Pid, Signal, WaitId, WaitIdOptions, getpgrp, getsid, kill_process_group, waitid,
};
use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGSTOP, SIGTERM, SIGTSTP};
use signal_hook::iterator::Signals;
use signal_hook::low_level::{emulate_default_handler, raise};

/// The signals that ask a program to end.
const ENDING: [i32; 4] = [SIGTERM, SIGHUP, SIGINT, SIGQUIT];

/// True where both names lead to the same file, by whatever links.
#[must_use]
pub fn is_same_file(one: &Path, other: &Path) -> bool {
    let place = |path: &Path| path.metadata().map(|m| (m.dev(), m.ino())).ok();
    place(one).is_some() && place(one) == place(other)
}

/// True where the name still leads to the open file: it was neither removed nor replaced, and its disk is there.
#[must_use]
pub fn leads_to(path: &Path, open: &File) -> bool {
    let place = |m: Metadata| (m.dev(), m.ino());
    let named = std::fs::metadata(path).ok().map(place);
    named.is_some() && named == open.metadata().ok().map(place)
}

/// True where the folder is there and lies on the same file system as the one above it.
#[must_use]
pub fn is_on_the_disk_above(folder: &Path) -> bool {
    let device = |path: &Path| std::fs::metadata(path).map(|m| m.dev()).ok();
    let above = folder.parent().and_then(device);
    above.is_some() && device(folder) == above
}

/// What a new file may be used for: the system takes away what its mask says.
#[must_use]
pub fn of_a_new_file() -> Option<Permissions> {
    Some(Permissions::from_mode(0o666))
}

/// Takes what others may do away from a file or a folder, where they may do anything.
///
/// # Errors
/// It is not there, or belongs to somebody else.
pub fn keep_private(path: &Path) -> io::Result<()> {
    let meta = std::fs::metadata(path)?;
    if meta.permissions().mode() & 0o077 == 0 {
        return Ok(());
    }
    let mode = if meta.is_dir() { 0o700 } else { 0o600 };
    std::fs::set_permissions(path, Permissions::from_mode(mode))
}

/// Makes folders for their owner alone, from the first moment on.
#[must_use]
pub fn private_folders() -> DirBuilder {
    let mut builder = DirBuilder::new();
    builder.mode(0o700);
    builder
}

/// Opens files for their owner alone where they are new.
#[must_use]
pub fn private_files() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.mode(0o600);
    options
}

/// What kind of thing lies there, in words.
#[must_use]
pub fn kind(meta: &Metadata) -> &'static str {
    let kind = meta.file_type();
    match () {
        () if kind.is_dir() => tr!("a folder"),
        () if kind.is_fifo() => tr!("a pipe"),
        () if kind.is_socket() => tr!("a socket"),
        () if kind.is_file() => tr!("a file"),
        () => tr!("a device"),
    }
}

/// The process to be leads a group of its own, so that it does not hear the Ctrl-C that is meant for us, and ends with all
/// that it starts.
pub fn lead_a_group(command: &mut Command) {
    command.process_group(0);
}

/// Lets the process to be take its large blocks of memory in large pages, where the system has them for who asks: the C
/// library asks when it is told so in the environment (glibc's tunable `glibc.malloc.hugetlb`); other libraries do not look there. What
/// somebody has set there himself stays.
pub fn take_large_pages(command: &mut Command) {
    const TUNABLES: &str = "GLIBC_TUNABLES";
    if std::env::var_os(TUNABLES).is_none() {
        command.env(TUNABLES, "glibc.malloc.hugetlb=1");
    }
}

/// Asks without reaping: as long as the process is not reaped its number is its own.
#[must_use]
pub fn has_ended(child: &mut Child) -> bool {
    let look = WaitIdOptions::EXITED | WaitIdOptions::NOHANG | WaitIdOptions::NOWAIT;
    let ended = Pid::from_raw(child.id().cast_signed())
        .and_then(|pid| waitid(WaitId::Pid(pid), look).transpose());
    // An error says that there is no such child any more.
    ended.is_some()
}

/// Ends a process that leads a group, with all that it has started.
pub fn end_group(child: &mut Child) {
    end_group_numbered(child.id());
}

/// The same by its number.
pub fn end_group_numbered(number: u32) {
    let group = Pid::from_raw(number.cast_signed());
    // Already gone is as good as killed.
    let _ = group.map(|group| kill_process_group(group, Signal::KILL));
}

/// Calls `ask` at each signal that asks the program to end and was not ignored when it was started (`nohup` has SIGHUP
/// ignored); where it answers true, the program ends as the signal says. Where they cannot be watched, they do what they
/// would have done anyway.
pub fn at_the_end(ask: impl Fn() -> bool + Send + 'static) {
    let ignored = ignored();
    let heeded = ENDING.into_iter();
    let heeded = heeded.filter(|signal| ignored & (1 << (signal - 1)) == 0);
    let Ok(mut signals) = Signals::new(heeded) else {
        return;
    };
    std::thread::spawn(move || {
        for signal in signals.forever() {
            if ask() {
                let _ = emulate_default_handler(signal);
            }
        }
    });
}

/// The signals that were ignored when the program was started, a bit each; none where the system does not
/// tell (proc(5): `SigIgn`).
fn ignored() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let mask = status.lines().find_map(|l| l.strip_prefix("SigIgn:"));
    mask.and_then(|m| u64::from_str_radix(m.trim(), 16).ok())
        .unwrap_or(0)
}

/// Has the flag set by the signals that ask the program to end.
///
/// # Errors
/// They cannot be watched.
pub fn stop_on_signals(flag: &Arc<AtomicBool>) -> io::Result<()> {
    ENDING.into_iter().try_for_each(|signal| heed(signal, flag))
}

/// Has the flag set when the shell asks the program to pause.
///
/// # Errors
/// That cannot be watched.
pub fn pause_on_signal(flag: &Arc<AtomicBool>) -> io::Result<()> {
    heed(SIGTSTP, flag)
}

fn heed(signal: i32, flag: &Arc<AtomicBool>) -> io::Result<()> {
    signal_hook::flag::register(signal, flag.clone()).map(|_| ())
}

/// Stops the program until its shell has it go on. Without a shell that could, which is where it runs in the
/// process group of the session's leader, it goes on at once.
pub fn wait_for_the_shell() {
    if getsid(None).is_ok_and(|session| session != getpgrp()) {
        // Where it does not stop it goes on, which is what is to come anyway.
        let _ = raise(SIGSTOP);
    }
}

/// True where the terminal that the program was started on has gone away.
#[must_use]
pub fn terminal_is_gone() -> bool {
    File::open("/dev/tty").is_err()
}

/// The terminal itself, wherever standard output leads.
///
/// # Errors
/// There is none.
pub fn terminal() -> io::Result<Box<dyn io::Write>> {
    let tty = OpenOptions::new().write(true).open("/dev/tty")?;
    Ok(Box::new(tty))
}
