#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "measured/fit_furniture.hpp"
#include "measured/recordings.hpp"
#include "placement/room_surfaces.hpp"
#include "placement/scenario.hpp"

namespace boxroom {

/// A room with other values than the file's.
struct FitState {
    Scenario scenario;
    std::vector<Recording> recordings;
    double fc_factor = 1, qtc_factor = 1;  ///< on every box
};

/// What the file cannot know, each as a number x whose prior is normal with mean 0 and variance 1.
struct FitParameter {
    enum class Kind { wall, contents, side, sound, fc, qtc, microphone, sub, furniture };
    Kind kind;
    int index = 0, axis = 0;  ///< of the surface, side, place or sub; x, y, z or FurnitureNumber
    std::string name, unit;
    double prior = 1;  ///< one standard deviation, in the unit or in the logarithm
};

/// Which numbers are free, and what they mean:
///   walls       factor on every branch's resistance; as wide as Uncertainty::wall in 90 % of cases
///   contents    factor on their absorption area, two either way; in a bare room an area, mostly
///               small
///   sides       Uncertainty::room; corners, blocks, openings and spaces go with them
///   sound       0.5 %, 3 K
///   fc, Qtc     6 % and 10 % (common practice: data sheets against samples)
///   places      of microphones 2 cm, acoustic centres of subs 3 cm on the floor (assumed)
///   furniture   by one wall, where it is asked for: see fit_furniture; these come last
class FitParameters {
  public:
    FitParameters(const Scenario& scenario, const std::vector<Recording>& recordings,
                  std::optional<int> furniture_wall = {});

    const std::vector<FitParameter>& all() const { return all_; }
    Eigen::Index size() const { return static_cast<Eigen::Index>(all_.size()); }
    FitState state(const Eigen::VectorXd& x) const;
    /// In the parameter's unit: absorption at 63 Hz, m2, m, m/s, Hz (as a factor), m.
    double value(std::size_t parameter, double x) const;
    /// Whether a recording's level can change with it.
    bool touches(std::size_t parameter, std::size_t recording) const;
    /// Parameters that touch no recording in common, so that one solution serves all of a group.
    const std::vector<std::vector<std::size_t>>& groups() const { return groups_; }
    /// The wall that a piece of furniture stands against which the file lacks.
    std::optional<int> furniture_wall() const { return furniture_wall_; }
    /// The place of a recording's microphone among the distinct ones.
    int place_of(std::size_t recording) const { return place_[recording]; }

  private:
    void add_room();
    void add_places();
    void find_groups();
    void apply(const FitParameter& p, double x, FitState& state) const;

    const Scenario& scenario_;
    const std::vector<Recording>& recordings_;
    std::optional<int> furniture_wall_;
    std::vector<RoomSurface> surfaces_;
    std::vector<FitParameter> all_;
    std::vector<int> place_;
    std::vector<std::vector<std::size_t>> groups_;
};

}  // namespace boxroom
