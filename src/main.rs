fn main() -> std::process::ExitCode {
    hubwright::commands::run()
}
