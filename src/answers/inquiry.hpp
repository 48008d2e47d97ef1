#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/units.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

struct RoomStore;

/// What an answer is, whoever asks: a text for people, a document for programs.
struct Answer {
    std::string text;
    nlohmann::ordered_json json;
};

/// What is asked of a room beside its file.
struct Wishes {
    Units units = Units::metric;
    std::string solver;  ///< modal, grid, both; empty: modal
    double memory = 2;   ///< [GB] what may be needed at once: floor_need.hpp
    int subs = 0;        ///< `rank`, `plan`: how many; 0 as the file says
    // `build`:
    std::optional<std::string> qtc, volume;
};

/// A room that was read and what is asked of it, with what is noticed on the way. The commands of
/// the program (app/session.hpp) and of the page (page/page_inquiry.hpp) stand on it: they differ
/// in where the text comes from and where the results go.
class Inquiry {
  public:
    /// Completes the driver and notes what the room's walls leave open. Throws Error where the
    /// driver's numbers contradict each other, or where listening alone needs too much memory.
    Inquiry(Wishes wishes, Scenario read);
    virtual ~Inquiry() = default;
    Inquiry(const Inquiry&) = delete;  // the solver's callbacks hold its address
    Inquiry& operator=(const Inquiry&) = delete;

    /// Progress: what is being done and the share that is behind it.
    virtual void say(const std::string& phase, double share) const = 0;
    /// The same for a phase that knows what time it has left [s]; < 0: it does not.
    void say(const std::string& phase, double share, double seconds_left) const;

    /// Notes what is known of the room's solution, then adds timing_s and warnings to the document.
    void close(Answer& answer);

    const Wishes wishes;
    Scenario scenario;
    Driver driver;
    std::vector<std::string> warnings;
    Timings timings;

  protected:
    /// Which solver takes the room: the one wished for, else elements where the floor is no
    /// rectangle, or the grid where they reach too low. What was solved before is asked of `store`.
    void choose_solver(RoomStore store);

  private:
    void note_grid(const GridReport& report);
    void note_elements();
    bool fit_told_ = false;  ///< how well the plan fits the grid has been noted
};

/// "modal" or "grid": who solves this room.
std::string solver_name(const Scenario& scenario);

}  // namespace boxroom
