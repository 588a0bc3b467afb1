//! Where the server listens and keeps its files, and why it may not start.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::PathBuf;

/// Where the server listens and keeps its files.
#[derive(Clone, Debug)]
pub struct Options {
    /// Folder of the jobs.
    pub folder: PathBuf,
    /// Address to listen at; port 0 takes a free one.
    pub address: SocketAddr,
}

impl Options {
    /// The jobs of this folder at this port of 127.0.0.1.
    #[must_use]
    pub fn new(folder: impl Into<PathBuf>, port: u16) -> Self {
        Self {
            folder: folder.into(),
            address: SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), port),
        }
    }

    /// Only this machine may ask while nobody has to sign in.
    pub(crate) fn check(&self) -> Result<(), Error> {
        if self.address.ip().to_canonical().is_loopback() {
            Ok(())
        } else {
            Err(Error::NotLoopback(self.address))
        }
    }
}

/// Why the server did not start or did not end well.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The address can be reached from other machines.
    #[error(
        "sign-in is not configured, so {0} is refused, since other machines could reach it: \
         listen at a loopback address (127.0.0.1 or [::1])"
    )]
    NotLoopback(SocketAddr),
    /// The address cannot be had.
    #[error("{address} cannot be listened at ({why}): choose another port, or stop what uses it")]
    Address {
        /// The address.
        address: SocketAddr,
        /// What the system said.
        why: std::io::Error,
    },
    /// The jobs cannot be opened.
    #[error(transparent)]
    Store(#[from] store::Error),
    /// The system did not let the server run.
    #[error("the server cannot run ({0})")]
    System(#[from] std::io::Error),
}
