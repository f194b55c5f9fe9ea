//! A PDF file as it is written, object by object, so that a long one is never
//! in memory as a whole but as the bytes it will have.

use std::io::Write;

use lopdf::xref::{Xref, XrefEntry, XrefStreamBuilder, XrefType};
use lopdf::{Dictionary, Object, ObjectId, ObjectStream, Stream, Writer, dictionary};

/// Objects that are compressed together.
const TOGETHER: usize = 200;

#[derive(Debug)]
pub struct Volume {
    bytes: Vec<u8>,
    table: Xref,
    /// The highest number that is taken.
    last: u32,
}

fn fault(error: impl std::fmt::Display) -> String {
    error.to_string()
}

impl Volume {
    /// A file whose objects up to a number are spoken for.
    pub fn new(last: u32) -> Self {
        // The second line tells a mail program that the file is no text.
        let bytes = b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n".to_vec();
        Self { bytes, table: Xref::new(0, XrefType::CrossReferenceStream), last }
    }

    /// The highest number that is taken.
    pub fn last(&self) -> u32 {
        self.last
    }

    /// A number that is free.
    pub fn number(&mut self) -> ObjectId {
        self.last += 1;
        (self.last, 0)
    }

    /// Speaks for the numbers up to one.
    pub fn reach(&mut self, last: u32) {
        self.last = self.last.max(last);
    }

    /// Writes objects: streams one by one, all others compressed together.
    ///
    /// # Errors
    /// In words: an object that cannot be written.
    pub fn put(&mut self, objects: impl IntoIterator<Item = (ObjectId, Object)>) -> Result<(), String> {
        let mut together = Vec::new();
        for (id, object) in objects {
            if matches!(object, Object::Stream(_)) {
                self.one(id, &object)?;
                continue;
            }
            together.push((id, object));
            if together.len() == TOGETHER {
                self.many(std::mem::take(&mut together))?;
            }
        }
        self.many(together)
    }

    fn one(&mut self, id: ObjectId, object: &Object) -> Result<(), String> {
        let offset = u32::try_from(self.bytes.len()).map_err(|_| "the file is larger than 4 GB")?;
        self.table.insert(id.0, XrefEntry::Normal { offset, generation: id.1 });
        writeln!(self.bytes, "{} {} obj", id.0, id.1).map_err(fault)?;
        Writer::write_object(&mut self.bytes, object).map_err(fault)?;
        self.bytes.extend_from_slice(b"\nendobj\n");
        Ok(())
    }

    fn many(&mut self, mut objects: Vec<(ObjectId, Object)>) -> Result<(), String> {
        if objects.is_empty() {
            return Ok(());
        }
        objects.sort_by_key(|(id, _)| *id);
        let container = self.number();
        let mut stream = ObjectStream::builder().max_objects(TOGETHER).compression_level(6).build();
        for (index, (id, object)) in objects.into_iter().enumerate() {
            let index = u16::try_from(index).map_err(fault)?;
            self.table.insert(id.0, XrefEntry::Compressed { container: container.0, index });
            stream.add_object(id, object).map_err(fault)?;
        }
        let stream = stream.to_stream_object().map_err(fault)?;
        self.one(container, &stream.into())
    }

    /// Writes the table of objects and gives the file's bytes.
    ///
    /// # Errors
    /// As for [`Self::put`].
    pub fn finish(mut self, trailer: &Dictionary) -> Result<Vec<u8>, String> {
        let id = self.number();
        let start = self.bytes.len();
        let offset = u32::try_from(start).map_err(|_| "the file is larger than 4 GB")?;
        self.table.insert(0, XrefEntry::UnusableFree);
        self.table.insert(id.0, XrefEntry::Normal { offset, generation: 0 });
        let mut table = XrefStreamBuilder::new(&self.table);
        let widths = table.calculate_optimal_widths().map(|width| Object::Integer(width as i64));
        let content = table.build_stream_content().map_err(fault)?;
        let mut stream = Stream::new(
            dictionary! {
                "Type" => "XRef",
                "Size" => i64::from(self.last) + 1,
                "W" => widths.to_vec(),
                "Index" => table.build_index_array(),
            },
            content,
        );
        stream.compress().map_err(fault)?;
        for (key, value) in trailer.iter() {
            stream.dict.set(key.clone(), value.clone());
        }
        self.one(id, &stream.into())?;
        write!(self.bytes, "startxref\n{start}\n%%EOF\n").map_err(fault)?;
        Ok(self.bytes)
    }
}
