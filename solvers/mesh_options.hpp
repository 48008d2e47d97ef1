#pragma once

namespace boxroom {

inline constexpr double highest_by_elements = 320;  ///< [Hz]: above, elements become too many

struct MeshOptions {
    double highest_frequency = 150;  ///< [Hz] that the elements are to resolve
    double longest = 1.3;            ///< element at 150 Hz [m]; shorter in proportion above
    double edge_layer = 0.03;        ///< elements this wide round openings [m]; 0: none
    int more_degrees = 0;            ///< added to every element's degree
};

/// For a room whose band ends there [Hz]. Throws Error above highest_by_elements.
MeshOptions mesh_for(double highest_frequency);

}  // namespace boxroom
