//! The engine for the browser: the same answers as `answers::call`, behind a plain C interface that needs no generated glue.
//!
//! The page asks for room with [`alloc`], writes a question there as UTF-8, and calls [`call`] with its place and length. It gets the place
//! of an answer: four bytes with its length, least first, then as many bytes of UTF-8. It gives both back with [`release`]. Whatever is wrong with a question is
//! an answer too; nothing traps.

use std::alloc::Layout;

/// Bytes before an answer that tell its length.
const HEAD: usize = 4;

/// Room for so many bytes; null where there is none.
#[unsafe(no_mangle)]
pub extern "C" fn alloc(length: usize) -> *mut u8 {
    match layout(length) {
        // SAFETY: the layout is never of size zero.
        Some(layout) => unsafe { std::alloc::alloc(layout) },
        None => std::ptr::null_mut(),
    }
}

/// Gives room back.
///
/// # Safety
/// `place` came from [`alloc`] with this length, or from [`call`] with the length that stands before the answer plus four; it is not used again.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn release(place: *mut u8, length: usize) {
    if let Some(layout) = layout(length)
        && !place.is_null()
    {
        // SAFETY: the caller promises that this place was given out with this layout.
        unsafe { std::alloc::dealloc(place, layout) }
    }
}

/// Answers the question that stands at `place`; null where there is no room for the answer.
///
/// # Safety
/// `place` points at `length` bytes that nobody writes to meanwhile.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn call(place: *const u8, length: usize) -> *mut u8 {
    let question = if place.is_null() {
        &[]
    } else {
        // SAFETY: the caller promises so many readable bytes.
        unsafe { std::slice::from_raw_parts(place, length) }
    };
    // What is no UTF-8 is no JSON either, and is answered as such.
    let answer = answers::call::call(&String::from_utf8_lossy(question));
    let Ok(size) = u32::try_from(answer.len()) else {
        return std::ptr::null_mut();
    };
    let room = alloc(HEAD + answer.len());
    if room.is_null() {
        return room;
    }
    // SAFETY: the room was just given out, holds head and answer, and overlaps neither.
    unsafe {
        std::ptr::copy_nonoverlapping(size.to_le_bytes().as_ptr(), room, HEAD);
        std::ptr::copy_nonoverlapping(answer.as_ptr(), room.add(HEAD), answer.len());
    }
    room
}

fn layout(length: usize) -> Option<Layout> {
    Layout::array::<u8>(length.max(1)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Asks through the border, as a page does.
    fn ask(question: &[u8]) -> String {
        let place = alloc(question.len());
        assert!(!place.is_null());
        // SAFETY: the room holds the question; what comes back is read within its length and given back once.
        unsafe {
            std::ptr::copy_nonoverlapping(question.as_ptr(), place, question.len());
            let answer = call(place, question.len());
            release(place, question.len());
            let head = std::slice::from_raw_parts(answer, HEAD);
            let size = u32::from_le_bytes(head.try_into().unwrap()) as usize;
            let text = std::slice::from_raw_parts(answer.add(HEAD), size).to_vec();
            release(answer, HEAD + size);
            String::from_utf8(text).unwrap()
        }
    }

    #[test]
    fn an_answer_crosses_the_border_as_it_is() {
        let question = r#"{"command":"check","job":"format = 2"}"#;
        assert_eq!(ask(question.as_bytes()), answers::call::call(question));
    }

    #[test]
    fn nonsense_is_answered_too() {
        for question in [&b""[..], b"{", b"\xff\xfe", b"null"] {
            assert!(ask(question).contains("cannot be read"));
        }
    }
}
