//! stub
use std::sync::{Arc, Mutex, Condvar};
use crate::footage::{Decoder, Footage, Picture};
/// stub
pub struct Reader { inner: Arc<Inner> }
struct Inner { state: Mutex<(Option<usize>, Option<Arc<Picture>>, Vec<(usize,u32)>, std::collections::HashMap<usize, Arc<image::RgbaImage>>, bool)>, cond: Condvar }
impl Reader {
    /// stub
    pub fn spawn(footage: &Footage, wake: impl Fn() + Send + 'static) -> Self {
        let inner = Arc::new(Inner { state: Mutex::new((None, None, vec![], Default::default(), false)), cond: Condvar::new() });
        let i = inner.clone(); let f = footage.clone();
        std::thread::spawn(move || {
            let mut d = Decoder::new(&f, 1);
            loop {
                let mut s = i.state.lock().unwrap();
                while s.0.is_none() && s.2.is_empty() && !s.4 { s = i.cond.wait(s).unwrap(); }
                if s.4 { return; }
                if let Some(k) = s.0.take() {
                    drop(s);
                    if let Ok(p) = d.picture(k) { i.state.lock().unwrap().1 = Some(p); wake(); }
                } else if let Some((k,h)) = s.2.pop() {
                    drop(s);
                    if let Ok(p) = d.picture(k) {
                        let full = p.to_rgba_upright();
                        let w = (full.width()*h/full.height()).max(1);
                        let small = image::imageops::resize(&full, w, h, image::imageops::FilterType::Triangle);
                        i.state.lock().unwrap().3.insert(k, Arc::new(small)); wake();
                    }
                }
            }
        });
        Self { inner }
    }
    /// stub
    pub fn want(&self, k: usize) { self.inner.state.lock().unwrap().0 = Some(k); self.inner.cond.notify_one(); }
    /// stub
    pub fn latest(&self) -> Option<Arc<Picture>> { self.inner.state.lock().unwrap().1.clone() }
    /// stub
    pub fn small(&self, k: usize, height: u32) -> Option<Arc<image::RgbaImage>> {
        let mut s = self.inner.state.lock().unwrap();
        if let Some(p) = s.3.get(&k) { return Some(p.clone()); }
        if !s.2.contains(&(k,height)) { s.2.push((k,height)); }
        self.inner.cond.notify_one();
        None
    }
}
impl Drop for Reader { fn drop(&mut self) { self.inner.state.lock().unwrap().4 = true; self.inner.cond.notify_one(); } }
