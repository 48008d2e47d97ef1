#include "answers/solver_output.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "placement/solver_agreement.hpp"

namespace boxroom {

nlohmann::ordered_json agreement_json(const SolverAgreement& agreement) {
    const auto one = [](const SolverAgreement::At& at) {
        return nlohmann::ordered_json{{"name", at.seat},
                                      {"largest_db", at.largest_db},
                                      {"at_hz", at.largest_hz},
                                      {"rms_db", at.rms_db},
                                      {"largest_deg", at.largest_deg}};
    };
    nlohmann::ordered_json json{{"solvers", {"modal", "grid"}},
                                {"up_to_hz", agreement.up_to},
                                {"cell_m", agreement.spacing}};
    json.update(one(agreement.all));
    json["spread_db"] = {agreement.first.spread_db, agreement.second.spread_db};
    json["seats"] = nlohmann::ordered_json::array();
    for (const SolverAgreement::At& at : agreement.seats) json["seats"].push_back(one(at));
    return json;
}

std::string cone_load_words(Inquiry& inquiry, const Listening& heard) {
    if (!inquiry.scenario.placed.cone_load) return "";
    if (heard.cone_load_db.empty()) {
        inquiry.warnings.push_back(
            "cone_load is not counted: it wants sd, re and qes (or bl, mms) in [driver]");
        return "";
    }
    const auto& load = heard.cone_load_db.values();
    const auto most = std::ranges::max_element(load, {}, [](double db) { return std::abs(db); });
    const auto f = static_cast<std::size_t>(most - load.begin()) / heard.subs.size();
    return fmt::format(
        "The room's pressure on the cone moves the level by {:+.2f} dB at most ({:.0f} Hz).", *most,
        heard.frequency[f]);
}

std::string compare_if_asked(Inquiry& inquiry, const ClosedBox& box, const Listening& modal,
                             SolverAgreement& agreement) {
    if (inquiry.wishes.solver != "both") return "";
    const double start = seconds_now();
    agreement = compare_solvers(inquiry.scenario, inquiry.driver, box, modal);
    inquiry.timings["compare"] = seconds_now() - start;
    return agreement_words(agreement);
}

}  // namespace boxroom
