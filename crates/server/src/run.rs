//! Starts the server, and stops it so that no answer and no save is lost.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::serve::ListenerExt;
use store::{JobId, Store};
use tokio::net::TcpListener;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;

use crate::app::App;
use crate::options::{Error, Options};
use crate::plugs::Plugs;
use crate::routes::router;

/// How long requests may take to end once the server stops.
const LONGEST_STOP: Duration = Duration::from_secs(10);

/// A server that answers until [`Running::stop`]. Dropped, it stops taking requests and leaves the closing to the system.
pub struct Running {
    address: SocketAddr,
    app: Arc<App>,
    stop: oneshot::Sender<()>,
    task: JoinHandle<std::io::Result<()>>,
}

impl Running {
    /// Where it listens.
    #[must_use]
    pub const fn address(&self) -> SocketAddr {
        self.address
    }

    /// Takes no new requests, finishes those that run (for at most ten seconds), closes the jobs.
    ///
    /// # Errors
    /// When the server ended badly.
    pub async fn stop(self) -> Result<(), Error> {
        // The task may be gone already; then there is nothing to tell it.
        let _ = self.stop.send(());
        let mut task = self.task;
        let ended = tokio::time::timeout(LONGEST_STOP, &mut task).await;
        if ended.is_err() {
            task.abort();
        }
        self.app.store.close().await;
        match ended {
            Ok(Ok(result)) => Ok(result?),
            Ok(Err(why)) => Err(Error::System(std::io::Error::other(why))),
            Err(_) => Ok(()),
        }
    }
}

/// Starts answering on the current tokio runtime.
///
/// # Errors
/// When the address is not this machine's own or is taken, or the jobs cannot be opened.
pub async fn start(options: &Options, plugs: Plugs) -> Result<Running, Error> {
    options.check()?;
    let address = options.address;
    let listener = TcpListener::bind(address)
        .await
        .map_err(|why| Error::Address { address, why })?;
    let address = listener.local_addr()?;
    let store = Store::open(&options.folder).await?;
    if store.is_empty().await? {
        for edit in (plugs.first_jobs)() {
            store.create(&JobId::new(edit.change.at)?, edit).await?;
        }
    }
    let app = Arc::new(App::new(store, plugs));
    let (stop, stopped) = oneshot::channel();
    let router = router(Arc::clone(&app));
    let listener = listener.tap_io(|stream| {
        // Answers are small; waiting to fill a packet only costs time.
        let _ = stream.set_nodelay(true);
    });
    let task = tokio::spawn(async move {
        axum::serve(listener, router)
            .with_graceful_shutdown(async {
                let _ = stopped.await;
            })
            .await
    });
    Ok(Running {
        address,
        app,
        stop,
        task,
    })
}

/// Answers until the process is told to end (Ctrl-C, or TERM on Unix). `ready` is called once with the address.
///
/// # Errors
/// As [`start`], or when the server ended badly.
pub fn serve(options: &Options, plugs: Plugs, ready: impl FnOnce(SocketAddr)) -> Result<(), Error> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()?;
    runtime.block_on(async {
        let running = start(options, plugs).await?;
        ready(running.address());
        told_to_end().await?;
        running.stop().await
    })
}

#[cfg(unix)]
async fn told_to_end() -> Result<(), Error> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut terminate = signal(SignalKind::terminate())?;
    tokio::select! {
        pressed = tokio::signal::ctrl_c() => pressed?,
        _ = terminate.recv() => {}
    }
    Ok(())
}

#[cfg(not(unix))]
async fn told_to_end() -> Result<(), Error> {
    Ok(tokio::signal::ctrl_c().await?)
}
