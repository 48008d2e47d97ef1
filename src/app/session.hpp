#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "app/commands.hpp"
#include "app/criteria_output.hpp"
#include "base/clock.hpp"
#include "files/results_file.hpp"
#include "files/results_folder.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// A room file read, its driver completed, and the folder its results go to.
struct Session {
    explicit Session(const Request& request);
    Session(const Session&) = delete;  // the solver's callbacks hold its address
    Session& operator=(const Session&) = delete;

    const Request& request;
    InputFiles inputs;  ///< what is read, so that nothing is written over it
    /// Where the results go; all are put in place together, by finish().
    ResultsFolder results;
    const std::filesystem::path& folder() const { return results.path(); }
    Provenance provenance() const;
    /// Puts the results in place, adds timing_s and warnings to the document, and sends warnings to
    /// standard error.
    void finish(Answer& answer);
    /// Progress bar, on a terminal only: what is being done and the share that is behind it.
    void say(const std::string& phase, double share) const;

    /// The same for a phase that knows what time it has left [s]; < 0: it does not.
    void say(const std::string& phase, double share, double seconds_left) const;

    Scenario scenario;
    Driver driver;
    std::vector<std::string> warnings;
    Timings timings;

  private:
    void choose_solver();
    void say_estimate();
    bool fit_told_ = false;  ///< how well the plan fits the grid has been said
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
