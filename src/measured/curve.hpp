#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace boxroom {

/// What was measured over frequency, in rising order.
struct Curve {
    std::vector<double> frequency;   ///< (F) [Hz]
    std::vector<double> value;       ///< (F), in the unit of the column
    std::vector<double> phase;       ///< (F) [rad]; empty: not measured
    std::vector<std::string> notes;  ///< what was mended on the way in
    bool has_phase() const { return !phase.empty(); }
};

/// What a column of values may hold.
struct CurveColumn {
    std::string name;  ///< "impedance_ohm"
    double low, high;  ///< both ends included
};

/// Reads CSV with the header "frequency_hz,NAME[,phase_deg]", further columns unread. Fields stand
/// between commas; or between semicolons or tabs, and then numbers may have decimal commas. Lines
/// that are empty, that begin with #, or that have an empty field are passed over. Rows come in any
/// order; those of one frequency are averaged.
/// Throws Error, each fault as "file:line", the first twenty of them.
Curve parse_curve(const std::string& text, const std::string& name, const CurveColumn& column);
/// The text of a file of at most 20 MB. Throws Error for what is no ordinary file.
std::string read_table(const std::filesystem::path& path);
/// parse_curve() of such a file.
Curve read_curve(const std::filesystem::path& path, const CurveColumn& column);

}  // namespace boxroom
