//! Checks documents for a build, with what is only wanted where there are some.

use std::path::{Path, PathBuf};

use typst::text::Font;

use super::choice::{self, Look};
use super::outputs::{Mode, Outputs};
use super::plan::Plan;
use super::record::Record;
use crate::check::Checked;
use crate::cli::{Failure, gather};
use crate::graph::stamps::{Stamps, Unit};
use crate::workspace::{Shelf, Workspace};

/// One shelf and one set of fonts for all documents of a build.
#[derive(Debug)]
pub struct Reader<'a> {
    pub workspace: &'a Workspace,
    pub languages: &'a [String],
    pub look: &'a Look,
    further: Option<Vec<Font>>,
    shelf: Option<Shelf<'a>>,
}

impl<'a> Reader<'a> {
    pub fn new(workspace: &'a Workspace, languages: &'a [String], look: &'a Look) -> Self {
        Self { workspace, languages, look, further: None, shelf: None }
    }

    /// The further fonts of the call.
    ///
    /// # Errors
    /// One that cannot be read.
    pub fn further(&mut self) -> Result<&Vec<Font>, Failure> {
        let fonts = match self.further.take() {
            Some(fonts) => fonts,
            None => choice::fonts(self.look, self.workspace)?,
        };
        Ok(self.further.insert(fonts))
    }

    /// # Errors
    /// A font that cannot be read.
    pub fn check(&mut self, paths: &[PathBuf], plan: &Plan) -> Result<Vec<Checked>, Failure> {
        self.further()?;
        let further = self.further.as_deref().unwrap_or_default();
        let shelf = self.shelf.get_or_insert_with(|| plan.shelf(self.workspace));
        Ok(gather::with_texts_on(paths, self.workspace, self.languages, further, shelf))
    }

    /// What is to be kept of a document that was checked here.
    pub fn unit(&mut self, path: &Path, file: &Checked, plan: &mut Plan, stamps: &mut Stamps) -> Option<Unit> {
        let shelf = self.shelf.get_or_insert_with(|| plan.shelf(self.workspace));
        plan.unit(path, file, shelf, self.workspace, stamps)
    }

    /// Records a document that was checked here, and keeps of it what the next
    /// build asks for.
    pub fn record(&mut self, path: &Path, file: &Checked, plan: &mut Plan, outputs: &mut Outputs) -> Record {
        let unit = self.unit(path, file, plan, &mut outputs.stamps);
        let record = Record::of_checked(path, file, unit.as_ref().map(|unit| unit.standing), self.workspace);
        if let Some(unit) = unit.filter(|_| outputs.mode() != Mode::Compared) {
            let key = outputs.stamps.key(path);
            outputs.stamps.keep_unit(key, unit);
        }
        record
    }
}
