//! The build script: tells cargo that the program holds what lies in `configs/` and `demo/`,
//! so that a changed or new file there is embedded at the next build.

fn main() {
    for folder in ["configs", "demo"] {
        println!("cargo::rerun-if-changed={folder}");
    }
    println!("cargo::rerun-if-changed=src/store/embedded/rerun.rs");
}
