#pragma once
#include <functional>
#include <string>

#include "app/dialogue.hpp"
#include "base/units.hpp"

namespace boxroom {

/// Asks for numbers with units; a bare number gets the usual unit and is told so. What is asked is
/// kept as text, as it shall stand in a room file.
class QuantityAsker {
  public:
    explicit QuantityAsker(Dialogue& dialogue) : d_(dialogue) {}

    bool imperial = false;

    /// `range` says in words what lies between low and high. Beyond the usual values it asks once
    /// more; `also` may throw Error for a value that cannot be for other reasons.
    double quantity(const std::string& question, const std::string& fallback, Quantity kind,
                    const std::string& unit, double low, double high, const std::string& range,
                    std::string& kept, double usual_low = 0, double usual_high = 1e9,
                    const std::function<void(double)>& also = {});

    double length(const std::string& question, double fallback, double low, double high,
                  std::string& kept, double usual_high = 1e9,
                  const std::function<void(double)>& also = {});

    /// As quantity(), where Enter leaves `kept` empty.
    void optional(const std::string& question, Quantity kind, const std::string& unit, double low,
                  double high, const std::string& range, std::string& kept);

    /// A whole number.
    int count(const std::string& question, int fallback, int low, int high);

  protected:
    Dialogue& d_;

  private:
    std::string doubted_;  ///< the last answer that was questioned
};

}  // namespace boxroom
