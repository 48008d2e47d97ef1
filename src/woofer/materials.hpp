#pragma once
#include <string>
#include <vector>

namespace boxroom {

/// A board to build from.
struct Material {
    std::string name;
    double density = 0;                 ///< used for weights [kg/m3]
    double lightest = 0, heaviest = 0;  ///< what is sold under that name [kg/m3]
    std::string source;
};

/// The boards known by name.
const std::vector<Material>& materials();

/// The board of this name; null where there is none.
const Material* find_material(const std::string& name);

}  // namespace boxroom
