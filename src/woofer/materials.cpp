#include "woofer/materials.hpp"

namespace boxroom {

const std::vector<Material>& materials() {
    // Air-dry densities. The ranges are those of the trade and of the Wood Handbook (USDA Forest
    // Products Laboratory, chapters 5 and 12), all from memory: weigh a piece of yours to be sure.
    static const std::vector<Material> all{
        {"MDF", 750, 680, 800, "medium-density fibreboard, 680 to 800 kg/m3 (from memory)"},
        {"birch plywood", 680, 640, 720, "birch plywood, 640 to 720 kg/m3 (from memory)"},
        {"softwood plywood", 520, 450, 600,
         "spruce or pine plywood, 450 to 600 kg/m3 (from memory)"},
        {"chipboard", 650, 600, 720, "particle board, 600 to 720 kg/m3 (from memory)"},
        {"OSB", 620, 580, 660, "oriented strand board, 580 to 660 kg/m3 (from memory)"},
        {"oak", 700, 600, 780,
         "solid white oak at 12 % moisture, about 680 to 720 kg/m3 (from memory)"},
        {"spruce", 450, 400, 500, "solid spruce at 12 % moisture, 400 to 500 kg/m3 (from memory)"}};
    return all;
}

const Material* find_material(const std::string& name) {
    for (const Material& material : materials())
        if (material.name == name) return &material;
    return nullptr;
}

}  // namespace boxroom
