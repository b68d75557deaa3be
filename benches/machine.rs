//! What benches share: what they run on, medians, the memory of a process.

/// What the figures were taken on.
pub fn machine() -> String {
    let cores = std::thread::available_parallelism().map_or(0, usize::from);
    let info = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = info.lines().find_map(|line| line.strip_prefix("model name")).unwrap_or(": a processor without a name");
    format!("{cores} cores, {}", model.trim_start_matches([' ', '\t', ':']))
}

pub fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// The largest resident size of a process so far, in kilobytes of 1000, from its
/// `/proc/…/status`.
pub fn peak(status_file: &str) -> Option<f64> {
    let status = std::fs::read_to_string(status_file).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kibibytes: f64 = line.trim().trim_end_matches("kB").trim().parse().ok()?;
    Some(kibibytes * 1.024)
}
