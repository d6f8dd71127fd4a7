//! Typesetting apart: what a shop brings of its own may do anything its language can, without end
//! or measure, so it is typeset by the same program in a process of its own, which the system
//! bounds in time, memory and stack and which can open nothing. The end of that process is a fault
//! of that one paper.
//!
//! The bounds are the system's and so not the same on every machine, but only a paper that takes a
//! hundred times what the longest built-in one does ever comes near them.

use crate::model::Failure;
use crate::typeset::{Brand, Draft, Fit, LAYOUTS, LayoutFault, PictureUse, Press};
use serde::{Deserialize, Serialize};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, ExitStatus, Stdio};
use std::sync::{Arc, OnceLock};
use std::thread;
use std::time::Duration;

/// The one argument of such a process.
const FLAG: &str = "--typeset-apart";

/// Seconds of work.
const SECONDS: u64 = 10;
/// Seconds on the wall, for a process that waits instead of working.
const SECONDS_WAITED: u64 = 60;
/// Bytes of memory.
const MEMORY: u64 = 2 << 30;
const STACK: usize = 16 << 20;
/// Standard input, output and error: nothing further can be opened.
const OPEN_FILES: u64 = 3;
/// No paper is larger.
const LARGEST: u64 = 256 << 20;

/// The process says by its exit status that it waited too long.
const WAITED: u8 = 4;

static PROGRAM: OnceLock<PathBuf> = OnceLock::new();

/// Names the program to typeset with, where it is not the running one: tests run this library from
/// a program of their own. The first name stands.
pub fn set_program(path: &Path) {
    let _ = PROGRAM.set(path.to_owned());
}

/// What is to be done apart.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Work {
    /// The logo of this name is drawn, and thrown away.
    Logo(String),
    /// A PDF.
    Pdf,
    /// The first page as a PNG with this many pixels on its longer side.
    Png(u32),
}

/// All a process is given.
pub struct Order<'a> {
    pub own: &'a [(String, String)],
    pub brand: &'a Brand,
    pub draft: &'a Draft,
    pub pictures: &'a [Vec<u8>],
    pub work: Work,
}

/// The order without the bytes of its files.
#[derive(Serialize, Deserialize)]
struct Head {
    own: Vec<(String, String)>,
    family: Option<String>,
    fonts: usize,
    logo: Option<String>,
    layout: String,
    ident: String,
    archival: bool,
    pictures: Vec<String>,
    files: Vec<String>,
    work: Work,
}

type Reply = Result<Vec<u8>, Vec<LayoutFault>>;

/// Typesets apart. The faults are of the paper; where the process was stopped there is one, of the
/// draft's own layout.
///
/// # Errors
/// No process could be started.
pub fn typeset_apart(order: &Order) -> Result<Reply, Failure> {
    let program = program()?;
    let failed = |e| Failure::new("start", &program, e);
    let mut child = Command::new(&program)
        .arg(FLAG)
        .env_clear()
        // One thread beside the main one: each takes room in memory before it does anything.
        .env("RAYON_NUM_THREADS", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .map_err(failed)?;
    let (input, output) = (child.stdin.take(), child.stdout.take());
    let mut reply = Vec::new();
    let read = thread::scope(|scope| {
        // A process that was stopped no longer reads; how it ended says why.
        scope.spawn(|| input.map(|mut input| write_order(order, &mut input)));
        output.map(|output| output.take(LARGEST).read_to_end(&mut reply))
    });
    let _ = child.kill();
    let status = child.wait().map_err(failed)?;
    match read {
        Some(Ok(_)) => {}
        Some(Err(e)) => return Err(failed(e)),
        None => return Err(failed(io::Error::other("no way to speak to it"))),
    }
    Ok(unpacked(&reply).unwrap_or_else(|| Err(vec![stopped(order, status)])))
}

fn program() -> Result<PathBuf, Failure> {
    match PROGRAM.get() {
        Some(program) => Ok(program.clone()),
        None => std::env::current_exe()
            .map_err(|e| Failure::new("find the program of", Path::new("this run"), e)),
    }
}

fn stopped(order: &Order, status: ExitStatus) -> LayoutFault {
    let message = if out_of_time(status) {
        format!("stopped after {SECONDS} seconds: this does not come to an end")
    } else {
        format!("stopped: this needs more than {} GB of memory, or nests too deep", MEMORY >> 30)
    };
    LayoutFault {
        layout: order.draft.layout.to_owned(),
        range: None,
        message,
        hints: vec!["let each loop and each function that calls itself do less".to_owned()],
    }
}

#[cfg(unix)]
fn out_of_time(status: ExitStatus) -> bool {
    use std::os::unix::process::ExitStatusExt;
    let signal = rustix::process::Signal::XCPU.as_raw();
    status.signal() == Some(signal) || status.code() == Some(i32::from(WAITED))
}

#[cfg(not(unix))]
fn out_of_time(status: ExitStatus) -> bool {
    status.code() == Some(i32::from(WAITED))
}

/// Does what a process apart is for, where this is one.
pub fn serve(arguments: impl IntoIterator<Item = std::ffi::OsString>) -> Option<ExitCode> {
    let mut arguments = arguments.into_iter().skip(1);
    if arguments.next()? != FLAG {
        return None;
    }
    Some(if carry_out().is_ok() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn carry_out() -> io::Result<()> {
    bind()?;
    thread::Builder::new().spawn(|| {
        thread::sleep(Duration::from_secs(SECONDS_WAITED));
        std::process::exit(i32::from(WAITED));
    })?;
    let mut order = Vec::new();
    io::stdin().read_to_end(&mut order)?;
    let work = move || carry_out_order(&order);
    let reply = thread::Builder::new().stack_size(STACK).spawn(work)?.join();
    let reply = reply.ok().flatten().ok_or_else(|| io::Error::other("no reply"))?;
    io::stdout().write_all(&packed(&reply))
}

/// Takes on the bounds, for good.
#[cfg(unix)]
fn bind() -> io::Result<()> {
    use rustix::process::{Resource, Rlimit, setrlimit};
    let bounds = [
        (Resource::Cpu, SECONDS, SECONDS + 1),
        (Resource::Nofile, OPEN_FILES, OPEN_FILES),
        (Resource::Fsize, 0, 0),
        (Resource::Core, 0, 0),
        #[cfg(target_os = "linux")]
        (Resource::As, MEMORY, MEMORY),
    ];
    for (resource, current, most) in bounds {
        setrlimit(resource, Rlimit { current: Some(current), maximum: Some(most) })?;
    }
    Ok(())
}

/// Only the time on the wall binds where the system has no such bounds.
#[cfg(not(unix))]
fn bind() -> io::Result<()> {
    Ok(())
}

fn carry_out_order(bytes: &[u8]) -> Option<Reply> {
    let mut rest = bytes;
    let head: Head = serde_json::from_slice(part(&mut rest)?).ok()?;
    let mut blobs = || part(&mut rest).map(<[u8]>::to_vec);
    let fonts = (0..head.fonts).map(|_| blobs()).collect::<Option<Vec<_>>>()?;
    let logo = match head.logo {
        Some(name) => Some((name, blobs()?)),
        None => None,
    };
    let data = blobs()?;
    let pictures = head.pictures.iter().map(|_| blobs()).collect::<Option<Vec<_>>>()?;
    let files = head.files.iter().map(|name| {
        let text = String::from_utf8(blobs()?).ok()?;
        Some((name.clone(), Arc::new(text)))
    });
    let files = files.collect::<Option<Vec<_>>>()?;
    let uses = head.pictures.into_iter().enumerate();
    let draft = Draft {
        layout: LAYOUTS.iter().find(|layout| layout.name == head.layout).map_or("", |l| l.name),
        data,
        pictures: uses.map(|(photo, name)| PictureUse { name, photo, fit: Fit::Main }).collect(),
        files,
        ident: head.ident,
        archival: head.archival,
    };
    let press = Press::new(&head.own).with(&Brand { fonts, family: head.family, logo });
    Some(match head.work {
        Work::Logo(name) => press.check_logo(&name).map(|()| Vec::new()),
        Work::Pdf => press.print(&draft, &pictures).map(|paper| paper.pdf),
        Work::Png(pixels) => press.picture(&draft, &pictures, pixels),
    })
}

fn write_order(order: &Order, to: &mut impl Write) -> io::Result<()> {
    let Order { own, brand, draft, pictures, work } = order;
    let head = Head {
        own: own.to_vec(),
        family: brand.family.clone(),
        fonts: brand.fonts.len(),
        logo: brand.logo.as_ref().map(|(name, _)| name.clone()),
        layout: draft.layout.to_owned(),
        ident: draft.ident.clone(),
        archival: draft.archival,
        pictures: draft.pictures.iter().map(|used| used.name.clone()).collect(),
        files: draft.files.iter().map(|(name, _)| name.clone()).collect(),
        work: work.clone(),
    };
    write_part(to, &serde_json::to_vec(&head).expect("text and numbers only"))?;
    let logo = brand.logo.iter().map(|(_, bytes)| bytes);
    let none = Vec::new();
    let pictures = draft.pictures.iter().enumerate().map(|(i, _)| pictures.get(i).unwrap_or(&none));
    for blob in brand.fonts.iter().chain(logo).chain([&draft.data]).chain(pictures) {
        write_part(to, blob)?;
    }
    for (_, text) in &draft.files {
        write_part(to, text.as_bytes())?;
    }
    Ok(())
}

fn write_part(to: &mut impl Write, bytes: &[u8]) -> io::Result<()> {
    to.write_all(&(bytes.len() as u64).to_le_bytes())?;
    to.write_all(bytes)
}

/// The next part of what was written by [`write_part`].
fn part<'a>(rest: &mut &'a [u8]) -> Option<&'a [u8]> {
    let (length, after) = rest.split_first_chunk::<8>()?;
    let length = usize::try_from(u64::from_le_bytes(*length)).ok()?;
    let (part, after) = after.split_at_checked(length)?;
    *rest = after;
    Some(part)
}

/// A whole reply: one part for a paper, two for faults, so that one cut short is none.
fn packed(reply: &Reply) -> Vec<u8> {
    let mut packed = Vec::new();
    let faults = reply.as_ref().err();
    let faults = serde_json::to_vec(&faults).expect("text and numbers only");
    for part in [&faults, reply.as_ref().unwrap_or(&Vec::new())] {
        write_part(&mut packed, part).expect("memory takes every byte");
    }
    packed
}

fn unpacked(mut reply: &[u8]) -> Option<Reply> {
    let faults: Option<Vec<LayoutFault>> = serde_json::from_slice(part(&mut reply)?).ok()?;
    let paper = part(&mut reply)?.to_vec();
    Some(faults.map_or(Ok(paper), Err))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reply_is_whole_or_none() {
        let fault = LayoutFault {
            layout: "a.typ".to_owned(),
            range: Some(3..5),
            message: "no".to_owned(),
            hints: vec!["yes".to_owned()],
        };
        for reply in [Ok(b"%PDF".to_vec()), Ok(Vec::new()), Err(vec![fault])] {
            let packed = packed(&reply);
            let again = unpacked(&packed).unwrap();
            assert_eq!(format!("{again:?}"), format!("{reply:?}"));
            for cut in 0..packed.len() {
                assert!(unpacked(&packed[..cut]).is_none());
            }
        }
    }
}
