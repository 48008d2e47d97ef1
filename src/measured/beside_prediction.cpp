#include "measured/beside_prediction.hpp"

#include <utility>

namespace boxroom {

BesidePrediction beside_prediction(HeardCurve heard, std::vector<double> predicted_db,
                                   const Band& band) {
    constexpr double octaves = 1.0 / 12;
    const auto weight = log_mean_weights(heard.frequency, band);
    HeardCurve model = heard;
    model.level_db = predicted_db;
    model.trusted.assign(predicted_db.size(), 1);
    const HeardCurve measured = smoothed(heard, octaves);
    const std::vector<double> level = smoothed(std::move(model), octaves).level_db;
    BesidePrediction out{std::move(heard), std::move(predicted_db), 0, 0};
    if (!out.heard.absolute) out.offset_db = best_offset(measured, level, weight);
    out.apart_db = apart_db(measured, level, weight, out.offset_db);
    return out;
}

}  // namespace boxroom
