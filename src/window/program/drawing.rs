//! The sample clips being drawn, by this same program in a process of its own.

use std::{
    env,
    path::PathBuf,
    process::{Child, Command, Stdio},
    sync::{Arc, Mutex},
    thread,
    time::Duration,
};

use crate::marks::StateFolder;

/// The sample clips being drawn, by this same program in a process of its own, so that it can be
/// stopped; dropping it stops it.
pub(crate) struct Demo {
    child: Arc<Mutex<Child>>,
    folder: PathBuf,
}

impl Demo {
    /// Begins to draw; nothing where that is not possible.
    pub(crate) fn begin() -> Option<Self> {
        let folder = StateFolder::of_user()?.path().join("demo");
        let child = Command::new(env::current_exe().ok()?)
            .args(["demo", "--no-window", "--out"])
            .arg(&folder)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .ok()?;
        Some(Self { child: Arc::new(Mutex::new(child)), folder })
    }

    /// Waits for the end and returns the clip to open.
    pub(crate) fn wait(&self) -> impl Future<Output = Result<PathBuf, String>> + use<> {
        let (child, folder) = (Arc::clone(&self.child), self.folder.clone());
        let waiting = tokio::task::spawn_blocking(move || {
            loop {
                // Only looked at now and then, so that it can be stopped in between.
                let ended = child.lock().ok().and_then(|mut child| child.try_wait().ok());
                match ended {
                    Some(None) => thread::sleep(Duration::from_millis(200)),
                    Some(Some(status)) if status.success() => {
                        return Ok(folder.join("bars-routine.mp4"));
                    }
                    _ => {
                        return Err("The sample clips could not be drawn. Is the ffmpeg program \
                                    installed?"
                            .to_owned());
                    }
                }
            }
        });
        async move { waiting.await.unwrap_or_else(|error| Err(error.to_string())) }
    }
}

impl Drop for Demo {
    fn drop(&mut self) {
        if let Ok(mut child) = self.child.lock() {
            // It may have ended already; then there is nothing to stop.
            let _ = child.kill();
        }
    }
}
