//! Every shader is valid WGSL for a device without optional features.

use naga::{
    front::wgsl,
    valid::{Capabilities, ValidationFlags, Validator},
};

#[test]
fn every_shader_is_valid() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/shaders");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        let module = wgsl::parse_str(&text).map_err(|e| e.emit_to_string(&text)).unwrap();
        let mut validator = Validator::new(ValidationFlags::all(), Capabilities::empty());
        validator.validate(&module).map_err(|e| e.emit_to_string(&text)).unwrap();
        count += 1;
    }
    assert!(count > 0, "no shader in {folder}");
}
