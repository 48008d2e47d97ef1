#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "app/commands.hpp"
#include "app/criteria_output.hpp"
#include "base/clock.hpp"
#include "files/results_file.hpp"
#include "placement/scenario.hpp"
#include "results/floor_map.hpp"

namespace boxroom {

/// A room file read, its driver completed, and the folder its results go to.
struct Session {
    explicit Session(const Request& request);

    /// The folder, made on first use. Throws Error if it cannot be written.
    const std::filesystem::path& folder();
    /// Draws and writes <name>.png and <name>.vti; keeps the PNG bytes by map name.
    std::map<std::string, std::string> write_maps(const std::vector<FloorMap>& maps);
    Provenance provenance() const;
    /// Adds timing_s and warnings to the document, warnings to standard error.
    void finish(Answer& answer);
    /// Progress bar, on a terminal only: what is being done and the share that is behind it.
    void say(const std::string& phase, double share) const;

    /// The same for a phase that knows what time it has left [s]; < 0: it does not.
    void say(const std::string& phase, double share, double seconds_left) const;

    const Request& request;
    Scenario scenario;
    Driver driver;
    std::vector<std::string> warnings;
    Timings timings;

  private:
    void choose_solver();
    bool fit_told_ = false;  ///< how well the plan fits the grid has been said
    std::filesystem::path folder_;
};

}  // namespace boxroom
