//! A PDF read back: its attached files, what its pages show, and digests of both.
//!
//! The file may come from anybody. It is looked over for what could exhaust memory or stack before
//! the parser sees it, and parsed on a thread of its own.

use std::collections::{BTreeMap, HashMap, VecDeque};
use std::io::Read as _;
use std::thread;

use borespoke_core::record::Digest;
use flate2::read::ZlibDecoder;
use hayro_syntax::Pdf;
use hayro_syntax::object::dict::Dict;
use hayro_syntax::object::stream::Stream;
use hayro_syntax::object::{self, MaybeRef, Object, ObjectIdentifier};
use sha2::{Digest as _, Sha256};
use thiserror::Error;

use super::pages;
use super::record::RECORD_FILE;
use super::seal::SEAL_FILE;

/// The largest file that is looked at. A handover has one or two megabytes.
const MOST_BYTES: usize = 64 << 20;
/// All streams of a file together, unpacked.
const MOST_UNPACKED: u64 = 256 << 20;
/// Arrays and dictionaries inside one another.
const MOST_NESTED: usize = 20_000;
/// The same where this module follows them itself.
const MOST_FOLLOWED: usize = 200;
/// Objects in a file.
const MOST_OBJECTS: usize = 200_000;
/// Room for the parser, which follows nesting by calling itself.
const STACK: usize = 192 << 20;

/// Why a PDF cannot be looked at.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PdfFault {
    /// No byte in it.
    #[error("the file is empty")]
    Empty,
    /// Far larger than any handover.
    #[error("the file has {0} bytes; more than {MOST_BYTES} are not looked at")]
    TooLarge(usize),
    /// Something else.
    #[error("the file is not a PDF")]
    NotPdf,
    /// Cut short.
    #[error("the file is cut short: a PDF ends with %%EOF")]
    CutShort,
    /// Does not parse.
    #[error("the file is damaged: {0}")]
    Damaged(&'static str),
    /// Made to exhaust whoever opens it.
    #[error("the file unpacks to more than any handover: {0}")]
    Hostile(&'static str),
}

/// A file attached to a PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attached {
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// A page as it is in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenedPage {
    /// SHA-256 of the page with all that is drawn on it.
    pub digest: Digest,
    /// What it says, run by run, in the order it is drawn.
    pub runs: Vec<String>,
}

/// A PDF, read back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opened {
    /// The attached files by name.
    pub attached: BTreeMap<String, Attached>,
    /// The pages.
    pub pages: Vec<OpenedPage>,
    /// SHA-256 of the whole document but the seal.
    pub document: Digest,
    /// The JPEG pictures in it, by their SHA-256.
    pub pictures: BTreeMap<Digest, Vec<u8>>,
}

impl Opened {
    /// The attached record, if there is one.
    #[must_use]
    pub fn record(&self) -> Option<&[u8]> {
        self.attached.get(RECORD_FILE).map(|file| file.bytes.as_slice())
    }

    /// The attached seal, if there is one.
    #[must_use]
    pub fn seal(&self) -> Option<&[u8]> {
        self.attached.get(SEAL_FILE).map(|file| file.bytes.as_slice())
    }
}

/// Reads a PDF.
///
/// # Errors
/// [`PdfFault`] when it is none, is damaged, or is made to do harm.
pub fn read(bytes: &[u8]) -> Result<Opened, PdfFault> {
    look_over(bytes)?;
    let bytes = bytes.to_vec();
    thread::Builder::new()
        .stack_size(STACK)
        .spawn(move || open(bytes))
        .map_err(|_| PdfFault::Damaged("no memory to look at it"))?
        .join()
        // The parser gave up in the middle of something it did not expect.
        .unwrap_or(Err(PdfFault::Damaged("an object in it cannot be parsed")))
}

/// What can be told without parsing.
fn look_over(bytes: &[u8]) -> Result<(), PdfFault> {
    if bytes.is_empty() {
        return Err(PdfFault::Empty);
    }
    if bytes.len() > MOST_BYTES {
        return Err(PdfFault::TooLarge(bytes.len()));
    }
    if !bytes[..bytes.len().min(1024)].windows(5).any(|five| five == b"%PDF-") {
        return Err(PdfFault::NotPdf);
    }
    // The end mark may be followed by a few bytes. ISO 32000-1, 7.5.5 and annex H.
    if !bytes[bytes.len().saturating_sub(1024)..].windows(5).any(|five| five == b"%%EOF") {
        return Err(PdfFault::CutShort);
    }
    not_too_deep(bytes)?;
    let mut unpacked = 0;
    for start in streams(bytes) {
        let mut content = Vec::new();
        let room = MOST_UNPACKED - unpacked;
        // What is not deflated ends at once with an error, and what it has no end of is cut off.
        let _ = ZlibDecoder::new(&bytes[start..]).take(room + 1).read_to_end(&mut content);
        unpacked += content.len() as u64;
        if unpacked > MOST_UNPACKED {
            return Err(PdfFault::Hostile("its streams are too long"));
        }
        not_too_deep(&content)?;
    }
    Ok(())
}

/// Where the content of streams begins.
fn streams(bytes: &[u8]) -> impl Iterator<Item = usize> {
    const WORD: &[u8] = b"stream";
    bytes.windows(WORD.len()).enumerate().filter_map(move |(at, word)| {
        let after = at + WORD.len();
        let starts = word == WORD && !bytes[..at].ends_with(b"end");
        let skipped = match bytes.get(after..) {
            Some([b'\r', b'\n', ..]) => 2,
            Some([b'\n' | b'\r', ..]) => 1,
            _ => return None,
        };
        // 8: deflate with a window of up to 32 KiB, as zlib begins. RFC 1950, 2.2.
        let deflated = bytes.get(after + skipped).is_some_and(|byte| byte & 0x0f == 8);
        (starts && deflated).then_some(after + skipped)
    })
}

fn not_too_deep(bytes: &[u8]) -> Result<(), PdfFault> {
    let mut depth = 0_usize;
    for pair in bytes.windows(2) {
        match pair {
            [b'[', _] | b"<<" => depth += 1,
            [b']', _] | b">>" => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > MOST_NESTED {
            return Err(PdfFault::Hostile("it is nested too deep"));
        }
    }
    Ok(())
}

fn open(bytes: Vec<u8>) -> Result<Opened, PdfFault> {
    let pdf = Pdf::new(bytes).map_err(|_| PdfFault::Damaged("it has no table of objects"))?;
    if pdf.len() > MOST_OBJECTS {
        return Err(PdfFault::Hostile("it has too many objects"));
    }
    let root = pdf.xref().root_id();
    let catalog: Dict<'_> =
        get(&pdf, root)?.into_dict().ok_or(PdfFault::Damaged("it has no catalog"))?;
    let (attached, seal) = attached(&catalog)?;
    let document = Walk::new(&pdf, seal, &[]).from(root)?;
    let mut pictures = BTreeMap::new();
    let mut opened = Vec::new();
    for page in pdf.pages().iter() {
        let id = page.raw().obj_id().ok_or(PdfFault::Damaged("a page has no number"))?;
        // What leads out of a page says nothing about how it looks.
        let mut walk = Walk::new(&pdf, seal, &["Parent", "StructParents", "StructParent"]);
        let digest = walk.from(id)?;
        pictures.append(&mut walk.jpegs);
        opened.push(OpenedPage { digest, runs: pages::runs(page) });
    }
    Ok(Opened { attached, pages: opened, document, pictures })
}

fn get(pdf: &Pdf, id: ObjectIdentifier) -> Result<Object<'_>, PdfFault> {
    pdf.xref().get(id).ok_or(PdfFault::Damaged("an object is missing"))
}

/// The files named by the catalog's `AF` (ISO 19005-3, 6.8), and the object that holds the seal.
#[expect(clippy::type_complexity, reason = "used once")]
fn attached(
    catalog: &Dict<'_>,
) -> Result<(BTreeMap<String, Attached>, Option<ObjectIdentifier>), PdfFault> {
    let mut files = BTreeMap::new();
    let mut seal = None;
    let Some(listed) = catalog.get::<object::Array<'_>>("AF") else {
        return Ok((files, seal));
    };
    for file in listed.iter::<Dict<'_>>() {
        let Some(name) = file.get::<object::String<'_>>("UF").map(|name| text(name.as_bytes()))
        else {
            continue;
        };
        let Some(stream) = file.get::<Dict<'_>>("EF").and_then(|ef| ef.get::<Stream<'_>>("F"))
        else {
            continue;
        };
        if name == SEAL_FILE {
            seal = Some(stream.obj_id());
        }
        let bytes =
            content(&stream).ok_or(PdfFault::Damaged("an attached file cannot be unpacked"))?;
        if files.insert(name, Attached { bytes }).is_some() {
            return Err(PdfFault::Damaged("two attached files have one name"));
        }
    }
    Ok((files, seal))
}

/// A text string: UTF-16 with its mark, else one byte a character. ISO 32000-1, 7.9.2.2.
fn text(bytes: &[u8]) -> String {
    match bytes {
        [0xfe, 0xff, wide @ ..] => {
            let units = wide.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
            char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
        }
        [0xef, 0xbb, 0xbf, utf8 @ ..] => String::from_utf8_lossy(utf8).into_owned(),
        narrow => narrow.iter().map(|&byte| char::from(byte)).collect(),
    }
}

/// The unpacked content; `None` when it does not unpack or is packed in a way not used here.
fn content(stream: &Stream<'_>) -> Option<Vec<u8>> {
    let raw = stream.raw_data();
    match stream.filters().as_slice() {
        [] => Some(raw.into_owned()),
        [hayro_syntax::Filter::FlateDecode] if !stream.dict().contains_key("DecodeParms") => {
            let mut unpacked = Vec::new();
            let mut decoder = ZlibDecoder::new(raw.as_ref()).take(MOST_UNPACKED);
            decoder.read_to_end(&mut unpacked).ok()?;
            Some(unpacked)
        }
        _ => None,
    }
}

/// A digest over an object and everything it leads to. Numbers of objects, the order in the file
/// and how streams are packed do not count, so that a copy saved anew by a careful program still
/// has it.
struct Walk<'a> {
    pdf: &'a Pdf,
    /// Not followed: the seal cannot be in the digest it carries.
    seal: Option<ObjectIdentifier>,
    /// Keys that are left out.
    without: &'static [&'static str],
    places: HashMap<ObjectIdentifier, u64>,
    queue: VecDeque<ObjectIdentifier>,
    hasher: Sha256,
    jpegs: BTreeMap<Digest, Vec<u8>>,
}

impl<'a> Walk<'a> {
    fn new(pdf: &'a Pdf, seal: Option<ObjectIdentifier>, without: &'static [&'static str]) -> Self {
        Self {
            pdf,
            seal,
            without,
            places: HashMap::new(),
            queue: VecDeque::new(),
            hasher: Sha256::new_with_prefix(b"borespoke document 1\n"),
            jpegs: BTreeMap::new(),
        }
    }

    fn from(&mut self, start: ObjectIdentifier) -> Result<Digest, PdfFault> {
        self.refer(start);
        while let Some(id) = self.queue.pop_front() {
            if Some(id) == self.seal {
                self.part(b'S', b"");
                continue;
            }
            // A reference to nothing is a null. ISO 32000-1, 7.3.10.
            match self.pdf.xref().get::<Object<'_>>(id) {
                Some(found) => self.object(&found, 0)?,
                None => self.part(b'n', b""),
            }
        }
        Ok(Digest::from_bytes(self.hasher.clone().finalize().into()))
    }

    /// A kind and content, with its length, so that no two objects read the same.
    fn part(&mut self, kind: u8, content: &[u8]) {
        self.hasher.update([kind]);
        self.hasher.update((content.len() as u64).to_be_bytes());
        self.hasher.update(content);
    }

    fn refer(&mut self, id: ObjectIdentifier) {
        let next = self.places.len() as u64;
        let place = *self.places.entry(id).or_insert_with(|| {
            self.queue.push_back(id);
            next
        });
        self.part(b'r', &place.to_be_bytes());
    }

    fn maybe(&mut self, found: &MaybeRef<Object<'a>>, depth: usize) -> Result<(), PdfFault> {
        match found {
            MaybeRef::Ref(to) => {
                self.refer((*to).into());
                Ok(())
            }
            MaybeRef::NotRef(object) => self.object(object, depth),
        }
    }

    fn object(&mut self, object: &Object<'a>, depth: usize) -> Result<(), PdfFault> {
        if depth > MOST_FOLLOWED {
            return Err(PdfFault::Hostile("it is nested too deep"));
        }
        match object {
            Object::Null(_) => self.part(b'n', b""),
            Object::Boolean(value) => self.part(b'b', &[u8::from(*value)]),
            Object::Number(number) => self.part(b'd', &number.as_f64().to_bits().to_be_bytes()),
            Object::String(string) => self.part(b's', string.as_bytes()),
            Object::Name(name) => self.part(b'/', name.as_ref()),
            Object::Array(array) => {
                self.part(b'[', b"");
                for item in array.raw_iter() {
                    self.maybe(&item, depth + 1)?;
                }
                self.part(b']', b"");
            }
            Object::Dict(dict) => self.dict(dict, &[], depth)?,
            Object::Stream(stream) => self.stream(stream, depth)?,
        }
        Ok(())
    }

    fn dict(&mut self, dict: &Dict<'a>, without: &[&str], depth: usize) -> Result<(), PdfFault> {
        let mut entries: Vec<(Vec<u8>, MaybeRef<Object<'a>>)> =
            dict.entries().map(|(name, value)| (name.as_ref().to_vec(), value)).collect();
        entries.sort_by(|(one, _), (other, _)| one.cmp(other));
        self.part(b'<', b"");
        for (name, value) in &entries {
            let left_out = |keys: &[&str]| keys.iter().any(|key| key.as_bytes() == name.as_slice());
            if left_out(self.without) || left_out(without) {
                continue;
            }
            self.part(b'/', name);
            self.maybe(value, depth + 1)?;
        }
        self.part(b'>', b"");
        Ok(())
    }

    fn stream(&mut self, stream: &Stream<'a>, depth: usize) -> Result<(), PdfFault> {
        let dict = stream.dict();
        let is = |key: &str, name: &str| {
            dict.get::<object::Name<'_>>(key).is_some_and(|found| found.as_str() == name)
        };
        match content(stream) {
            Some(content) if is("Type", "Metadata") => {
                self.dict(dict, &["Length", "Filter"], depth)?;
                self.part(b'~', &without_instance(&content));
            }
            Some(content) => {
                self.dict(dict, &["Length", "Filter"], depth)?;
                self.part(b'~', &content);
            }
            None => {
                let raw = stream.raw_data();
                if is("Filter", "DCTDecode") {
                    let digest = Digest::from_bytes(Sha256::digest(raw.as_ref()).into());
                    self.jpegs.insert(digest, raw.to_vec());
                }
                self.dict(dict, &["Length"], depth)?;
                self.part(b'~', &raw);
            }
        }
        Ok(())
    }
}

/// The document's own description without the number of this very file (`xmpMM:InstanceID`), which
/// depends on the seal.
fn without_instance(xmp: &[u8]) -> Vec<u8> {
    const START: &str = "<xmpMM:InstanceID>";
    let text = String::from_utf8_lossy(xmp);
    let number = text
        .split_once(START)
        .and_then(|(_, after)| after.split_once('<'))
        .map_or("", |(number, _)| number);
    if number.is_empty() { xmp.to_vec() } else { text.replace(number, "").into_bytes() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_pdf_is_told_apart() {
        assert_eq!(read(b""), Err(PdfFault::Empty));
        assert_eq!(read(b"RIFF....WAVE"), Err(PdfFault::NotPdf));
        assert_eq!(read(b"%PDF-1.7\n1 0 obj"), Err(PdfFault::CutShort));
        assert!(matches!(read(b"%PDF-1.7\nnothing\n%%EOF"), Err(PdfFault::Damaged(_))));
        let huge = vec![b' '; MOST_BYTES + 1];
        assert_eq!(read(&huge), Err(PdfFault::TooLarge(MOST_BYTES + 1)));
    }

    #[test]
    fn a_tower_of_brackets_is_refused_before_it_is_parsed() {
        let tower = [b"%PDF-1.7\n".as_slice(), &vec![b'['; 1_000_000], b"\n%%EOF"].concat();
        assert_eq!(read(&tower), Err(PdfFault::Hostile("it is nested too deep")));
    }

    #[test]
    fn a_bomb_is_refused_before_it_is_unpacked_whole() {
        use std::io::Write as _;
        let mut packer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::fast());
        let zeros = vec![0_u8; 1 << 20];
        for _ in 0..300 {
            packer.write_all(&zeros).unwrap();
        }
        let bomb =
            [b"%PDF-1.7\nstream\n".as_slice(), &packer.finish().unwrap(), b"\n%%EOF"].concat();
        assert_eq!(read(&bomb), Err(PdfFault::Hostile("its streams are too long")));
    }
}
