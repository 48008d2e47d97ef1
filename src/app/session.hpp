#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "app/commands.hpp"
#include "files/results_file.hpp"
#include "files/results_folder.hpp"

namespace boxroom {

/// An inquiry into a room file on disk, with the folder its results go to.
struct Session : Inquiry {
    explicit Session(const Request& request);

    const Request& request;
    InputFiles inputs;  ///< what is read, so that nothing is written over it
    /// Where the results go; all are put in place together, by finish().
    ResultsFolder results;
    const std::filesystem::path& folder() const { return results.path(); }
    Provenance provenance() const;
    /// Puts the results in place, closes the answer, and sends warnings to standard error.
    void finish(Answer& answer);
    /// A progress bar, on a terminal only.
    void say(const std::string& phase, double share) const override;
    using Inquiry::say;
};

/// To standard error, on a line of its own, with nothing in it that a terminal obeys.
void say_note(const std::string& text);
/// Progress bar, on a terminal only; an empty phase takes it away.
void say_progress(const Request& request, const std::string& phase, double share);
/// Where a request's results go: --out, or the file's name without its ending and "-results".
std::filesystem::path results_path(const Request& request);
/// What a request names to be read.
InputFiles input_files(const Request& request);

}  // namespace boxroom
