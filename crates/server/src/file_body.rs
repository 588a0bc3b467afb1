//! A file as the body of an answer, read part by part while it is sent.

use std::io;
use std::pin::Pin;
use std::task::{Context, Poll, ready};

use axum::body::{Bytes, HttpBody};
use tokio::fs::File;
use tokio::io::{AsyncRead, ReadBuf};

/// So many bytes are read at once.
const PART: usize = 64 * 1024;

pub(crate) struct FileBody {
    file: File,
    rest: u64,
}

impl FileBody {
    /// The file must hold so many bytes; when it turns out shorter, the answer breaks off and the receiver knows.
    pub(crate) const fn new(file: File, bytes: u64) -> Self {
        Self { file, rest: bytes }
    }
}

impl HttpBody for FileBody {
    type Data = Bytes;
    type Error = io::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<io::Result<http_body::Frame<Bytes>>>> {
        if self.rest == 0 {
            return Poll::Ready(None);
        }
        let mut part = vec![0; PART.min(usize::try_from(self.rest).unwrap_or(PART))];
        let mut buffer = ReadBuf::new(&mut part);
        ready!(Pin::new(&mut self.file).poll_read(cx, &mut buffer))?;
        let read = buffer.filled().len();
        if read == 0 {
            return Poll::Ready(Some(Err(io::ErrorKind::UnexpectedEof.into())));
        }
        part.truncate(read);
        self.rest -= read as u64;
        Poll::Ready(Some(Ok(http_body::Frame::data(part.into()))))
    }

    fn size_hint(&self) -> http_body::SizeHint {
        http_body::SizeHint::with_exact(self.rest)
    }
}
