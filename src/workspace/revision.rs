//! A workspace as it was at a revision of its git repository.
//!
//! Everything that a dish rests on lies in the workspace: settings, tables,
//! larder, profile, other dishes. So the whole of it is laid out anew in a
//! temporary folder, and checked there like any other.

use std::fs;
use std::path::{Path, PathBuf};

use git2::{ObjectType, Repository, TreeWalkMode, TreeWalkResult};

/// A workspace laid out anew; gone from the disk when this is dropped.
#[derive(Debug)]
pub struct Revision {
    /// The revision as it was asked for, and its commit.
    pub name: String,
    /// The root of the old workspace.
    pub root: PathBuf,
    _folder: tempfile::TempDir,
}

/// Largest file that is laid out; the recipes and tables are far below.
const LARGEST: usize = 256 << 20;

impl Revision {
    /// Lays out the workspace at `root` as it was at `revision`. Below `skip`
    /// lies what is made, not written.
    ///
    /// # Errors
    /// No repository there, no such revision, or a disk that cannot be
    /// written; as a sentence for a person.
    pub fn lay_out(root: &Path, revision: &str, skip: &Path) -> Result<Self, String> {
        let root = fs::canonicalize(root).map_err(|error| format!("the workspace cannot be read: {error}"))?;
        let repository = Repository::discover(&root)
            .map_err(|error| format!("`{}` is in no git repository: {}", super::shown(&root), said(&error)))?;
        let top = repository.workdir().ok_or("the git repository has no working files")?;
        let top = fs::canonicalize(top).map_err(|error| format!("the repository cannot be read: {error}"))?;
        let inside = root.strip_prefix(&top).map_err(|_| "the workspace lies outside its repository".to_owned())?;
        let commit = repository
            .revparse_single(revision)
            .and_then(|object| object.peel_to_commit())
            .map_err(|error| format!("there is no revision `{revision}`: {}", said(&error)))?;
        let id = commit.id().to_string();
        let short = id.get(..10).unwrap_or(&id);
        let name = if id.starts_with(revision) { short.to_owned() } else { format!("{revision} ({short})") };
        let folder = tempfile::Builder::new()
            .prefix("porringer-")
            .tempdir()
            .map_err(|error| format!("no temporary folder can be made: {error}"))?;
        // The folder's own name tells a `recipes` folder from a root.
        let laid = folder.path().join(root.file_name().unwrap_or("workspace".as_ref()));
        fs::create_dir_all(&laid).map_err(|error| format!("no temporary folder can be made: {error}"))?;
        let laid = fs::canonicalize(&laid).unwrap_or(laid);
        let mut tree = commit.tree().map_err(|error| said(&error))?;
        if !inside.as_os_str().is_empty() {
            // A workspace that was not there yet had no dishes.
            let found = tree.get_path(inside).ok().and_then(|entry| entry.to_object(&repository).ok());
            match found.and_then(|object| object.into_tree().ok()) {
                Some(below) => tree = below,
                None => return Ok(Self { name, root: laid, _folder: folder }),
            }
        }
        let skip = skip.strip_prefix(&root).ok().filter(|skip| !skip.as_os_str().is_empty());
        let mut trouble = None;
        let walked = tree.walk(TreeWalkMode::PreOrder, |above, entry| {
            let Some(place) = entry.name().and_then(|name| plain(above, name)) else { return TreeWalkResult::Skip };
            if skip.is_some_and(|skip| place.starts_with(skip)) {
                return TreeWalkResult::Skip;
            }
            // A link could lead anywhere, and a submodule is another's.
            let file = matches!(entry.filemode(), 0o100_644 | 0o100_664 | 0o100_755);
            if entry.kind() != Some(ObjectType::Blob) || !file {
                return TreeWalkResult::Ok;
            }
            let written = entry.to_object(&repository).map_err(|error| said(&error)).and_then(|object| {
                let Some(blob) = object.as_blob().filter(|blob| blob.size() <= LARGEST) else { return Ok(()) };
                let path = laid.join(&place);
                path.parent()
                    .map_or(Ok(()), fs::create_dir_all)
                    .and_then(|()| fs::write(&path, blob.content()))
                    .map_err(|error| format!("`{}` cannot be laid out: {error}", place.display()))
            });
            match written {
                Ok(()) => TreeWalkResult::Ok,
                Err(message) => {
                    trouble = Some(message);
                    TreeWalkResult::Abort
                }
            }
        });
        match (trouble, walked) {
            (Some(message), _) => Err(message),
            (None, Err(error)) => Err(said(&error)),
            (None, Ok(())) => Ok(Self { name, root: laid, _folder: folder }),
        }
    }
}

/// The place of an entry, if its names are names and lead nowhere else.
fn plain(above: &str, name: &str) -> Option<PathBuf> {
    let parts = above.split('/').filter(|part| !part.is_empty()).chain([name]);
    let mut place = PathBuf::new();
    for part in parts {
        if part.is_empty() || part == "." || part == ".." || part.contains(['/', '\\', '\0', ':']) {
            return None;
        }
        place.push(part);
    }
    Some(place)
}

fn said(error: &git2::Error) -> String {
    error.message().trim_end_matches('.').to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lead_nowhere_else() {
        assert_eq!(plain("a/b/", "c.dish"), Some(PathBuf::from("a/b/c.dish")));
        for (above, name) in [("../", "x"), ("a/", ".."), ("", "/etc"), ("", "c:x"), ("a/", "..\\x"), ("", "")] {
            assert_eq!(plain(above, name), None, "{above} {name}");
        }
    }
}
