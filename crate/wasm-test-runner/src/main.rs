//! Runs a compiled wasm test file in a browser. Cargo calls it for `cargo test --target wasm32-unknown-unknown`.

use wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args;

fn main() -> anyhow::Result<()> {
    run_cli_with_args(std::env::args_os())
}
