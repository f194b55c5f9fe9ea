//! Builds that are killed, that run at once, and whose files change under
//! them: every file in the output folder is whole, old or new, and the next
//! build mends the rest.

use std::collections::BTreeMap;
use std::fs;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crate::{Folder, MASH};

/// Numbers that look random and are the same on every run.
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Below a bound.
    pub fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % bound
    }
}

const DISHES: usize = 6;

/// The dishes in one of two states.
fn write(folder: &Folder, state: usize) {
    for at in 0..DISHES {
        let text =
            MASH.replace("360 g", &format!("{} g", 350 - at)).replace("for 3 min", ["for 3 min", "for 4 min"][state]);
        folder.write(&format!("recipes/mash-{at}.dish"), text);
    }
}

fn cards(folder: &Folder) -> BTreeMap<String, Vec<u8>> {
    folder.names("out").into_iter().map(|name| (name.clone(), folder.read(&format!("out/{name}")))).collect()
}

fn build(folder: &Folder) -> Child {
    Command::new(env!("CARGO_BIN_EXE_porringer"))
        .arg("build")
        .current_dir(folder.path(""))
        .env("SOURCE_DATE_EPOCH", "1793491200")
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Names in the folder of the stamps.
fn kept(folder: &Folder) -> Vec<String> {
    let entries = fs::read_dir(folder.path("out/.porringer")).unwrap();
    let mut names: Vec<String> = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

const WHOLE: [&str; 3] = [".gitignore", "lock", "stamps"];

#[test]
fn a_build_can_be_killed_at_any_moment() {
    let folder = Folder::new();
    let mut states = Vec::new();
    let mut longest = Duration::ZERO;
    for state in [0, 1] {
        write(&folder, state);
        let begin = Instant::now();
        assert_eq!(folder.run(&["build", "--force"]).code, 0);
        longest = longest.max(begin.elapsed());
        states.push(cards(&folder));
    }
    assert_eq!(states[0].len(), DISHES);
    assert!(states[0].iter().all(|(name, bytes)| *bytes != states[1][name]));
    let mut chance = Chance::new(7);
    let (mut rounds, mut halfway) = (0, 0);
    // Until some builds were killed with some cards done, however fast this
    // machine is today.
    while rounds < 10 || (halfway < 2 && rounds < 200) {
        let new = rounds % 2;
        write(&folder, new);
        let mut child = build(&folder);
        std::thread::sleep(longest.mul_f64(chance.below(1_000) as f64 / 900.0));
        child.kill().unwrap();
        child.wait().unwrap();
        let now = cards(&folder);
        assert_eq!(now.keys().collect::<Vec<_>>(), states[0].keys().collect::<Vec<_>>(), "nothing lies beside them");
        let done = now.iter().filter(|(name, bytes)| **bytes == states[new][*name]).count();
        let old = now.iter().filter(|(name, bytes)| **bytes == states[1 - new][*name]).count();
        assert_eq!(done + old, DISHES, "a card is neither old nor new");
        halfway += usize::from(done > 0 && old > 0);
        let ran = folder.run(&["build"]);
        assert_eq!(ran.code, 0, "{ran:?}");
        assert!(cards(&folder) == states[new], "the next build mends the rest: {ran:?}");
        assert_eq!(kept(&folder), WHOLE);
        rounds += 1;
    }
    assert!(halfway >= 2, "no build was killed halfway in {rounds} rounds");
}

#[test]
fn builds_at_once_do_not_harm_each_other() {
    let folder = Folder::new();
    write(&folder, 0);
    let running: Vec<Child> = (0..4).map(|_| build(&folder)).collect();
    let mut waited = 0;
    for child in running {
        let output = child.wait_with_output().unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(output.status.success(), "{said}");
        waited += usize::from(said.contains("another build works in"));
    }
    let once = cards(&folder);
    assert_eq!(once.len(), DISHES);
    assert_eq!(kept(&folder), WHOLE);
    assert_eq!(folder.run(&["build"]).err, "porringer: 0 files in out, 6 up to date: no errors\n");
    fs::remove_dir_all(folder.path("out")).unwrap();
    folder.run(&["build", "--no-stamps"]);
    assert!(cards(&folder) == once);
    eprintln!("{waited} of 4 had to wait");
}

#[test]
fn a_lock_is_waited_for() {
    let folder = Folder::new();
    write(&folder, 0);
    folder.run(&["build"]);
    let lock = fs::File::options().write(true).open(folder.path("out/.porringer/lock")).unwrap();
    lock.lock().unwrap();
    let mut child = build(&folder);
    std::thread::sleep(Duration::from_millis(300));
    assert!(child.try_wait().unwrap().is_none(), "it did not wait");
    drop(lock);
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success());
    assert_eq!(
        said,
        "porringer: another build works in out; this one waits for it\nporringer: 0 files in out, 6 up to date: no errors\n"
    );
}

#[test]
fn what_changes_while_it_is_read_is_made_again() {
    let folder = Folder::new();
    write(&folder, 0);
    let end = AtomicBool::new(false);
    std::thread::scope(|scope| {
        let flips = scope.spawn(|| {
            let mut state = 0;
            while !end.load(Ordering::Relaxed) {
                state = 1 - state;
                let text = MASH.replace("360 g", ["340 g", "350 g"][state]);
                // As editors save: beside, then renamed, or in place.
                if state == 0 {
                    folder.write("recipes/new", text);
                    fs::rename(folder.path("recipes/new"), folder.path("recipes/mash-0.dish")).unwrap();
                } else {
                    folder.write("recipes/mash-0.dish", text);
                }
                std::thread::sleep(Duration::from_millis(3));
            }
        });
        for _ in 0..8 {
            let ran = folder.run(&["build"]);
            // A file may be caught empty, which is a fault of that moment.
            assert!(ran.code <= 1, "{ran:?}");
        }
        end.store(true, Ordering::Relaxed);
        flips.join().unwrap();
    });
    assert_eq!(folder.run(&["build"]).code, 0);
    let ours = cards(&folder);
    fs::rename(folder.path("out"), folder.path("ours")).unwrap();
    folder.run(&["build"]);
    assert!(cards(&folder) == ours);
}

#[test]
#[cfg(unix)]
fn a_folder_that_is_read_only_is_read() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new();
    write(&folder, 0);
    folder.run(&["build"]);
    std::thread::sleep(Duration::from_millis(150));
    let set = |mode| {
        for name in ["out/.porringer/lock", "out/.porringer/stamps", "out/.porringer", "out"] {
            fs::set_permissions(folder.path(name), fs::Permissions::from_mode(mode)).unwrap();
        }
    };
    set(0o555);
    // Whoever may do everything cannot be kept out.
    let mighty = fs::write(folder.path("out/probe"), "").is_ok();
    let same = folder.run(&["build"]);
    write(&folder, 1);
    let changed = folder.run(&["build"]);
    set(0o755);
    assert_eq!((same.code, same.err.as_str()), (0, "porringer: 0 files in out, 6 up to date: no errors\n"));
    if mighty {
        return;
    }
    assert_eq!(changed.code, 2);
    assert!(changed.err.contains("`out/mash-0.en.pdf` cannot be written: "), "{changed:?}");
    assert!(changed.err.contains("0 files in out, 6 not written"), "{changed:?}");
}

/// A disk that is full, where `.ci/run` has made a small one.
#[test]
fn a_full_disk_is_said() {
    let Some(small) = std::env::var_os("PORRINGER_SMALL_DISK") else {
        eprintln!("no small disk here: not run");
        return;
    };
    let small = small.into_string().unwrap();
    let folder = Folder::new();
    write(&folder, 0);
    let ran = folder.run(&["build", "--out", &small]);
    assert_eq!(ran.code, 2, "{ran:?}");
    assert!(ran.err.contains("cannot be written: No space left on device"), "{ran:?}");
    let names: Vec<String> = fs::read_dir(&small)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != ".porringer")
        .collect();
    let good = Folder::new();
    write(&good, 0);
    good.run(&["build"]);
    assert!(!names.is_empty() && names.len() < DISHES, "{names:?}");
    for name in names {
        assert!(
            fs::read(std::path::Path::new(&small).join(&name)).unwrap() == good.read(&format!("out/{name}")),
            "{name}"
        );
    }
}
