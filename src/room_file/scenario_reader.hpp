#pragma once
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "placement/scenario.hpp"
#include "room_file/toml_reader.hpp"

namespace boxroom {

inline const Limits audible{1, 1000, "between 1 Hz and 1000 Hz"};

/// Reads the tables of one room file into a scenario; everything wrong is collected first. Its
/// parts stand in scenario_reader, box_reader, build_reader, place_reader, crossover_reader and
/// judgement_reader.
class ScenarioReader {
  public:
    ScenarioReader(const toml::table& root, std::string file)
        : faults_(std::move(file)), root_(&root, "the file", 1, faults_) {}
    ScenarioReader(const ScenarioReader&) = delete;
    ScenarioReader& operator=(const ScenarioReader&) = delete;

    /// Once only. Throws Error with every fault of the file.
    Scenario read();

  private:
    TableReader required_table(const std::string& key, const std::string& begin);
    void read_air();
    void read_room();
    bool read_outline(TableReader& room);
    void read_plan_walls(TableReader& walls);
    bool read_cuboid(TableReader& table, Point& from, Point& to, bool flat);
    void read_blocks();
    void read_spaces();
    void read_openings();
    bool on_a_wall(const Opening& opening) const;
    void plan_to_rectangle();
    void read_driver();
    void read_amplifier();
    void read_box();
    void read_facing(TableReader& box, const std::string& word);
    void read_sweep(TableReader& sweep);
    void read_build();
    void read_bodies(TableReader& build, bool sum_given);
    void read_material(TableReader& build);
    void read_sheet(TableReader& build);
    static Limits volume_limits();
    std::optional<Point> read_point(TableReader& table, const std::string& who);
    void claim(TableReader& table, const std::string& name, std::map<std::string, int>& taken);
    void read_seats();
    void read_subs();
    void read_crossover();
    void read_mains();
    int read_polarity(TableReader& table);
    /// Gain, delay and polarity, of a sub or a main loudspeaker.
    template <typename Speaker>
    void read_dials(TableReader& table, Speaker& speaker) {
        speaker.dial.gain_db =
            table.number("gain", Quantity::level, {-60, 40, "between -60 dB and 40 dB"}).value;
        speaker.dial.delay =
            table.number("delay", Quantity::time, {0, 1, "between 0 ms and 1000 ms"}).value;
        speaker.dial.polarity = read_polarity(table);
    }
    void read_spots();
    void read_keep_outs();
    void read_score();
    void read_search();
    Band read_band(TableReader& table, Band fallback, bool& good);
    void read_analysis_and_target();
    void fit_target(TableReader& target, TableReader& analysis, bool given, bool listed, Band band);
    void warn_of_odd_rooms();

    FaultList faults_;
    TableReader root_;
    Scenario s_;
    bool room_known_ = false, driver_known_ = false, driver_absolute_ = false;
    int walls_line_ = 1;
};

}  // namespace boxroom
