#pragma once
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include "placement/set_search.hpp"

namespace boxroom {

/// Keeps what a search finds: the best set of every combination of cells, and the sets that no
/// other beats. What is kept does not depend on the order in which sets are added or pools merged.
class SetPool {
  public:
    SetPool(const SetRules& rules, int subs, int keep) : rules_(rules), subs_(subs), keep_(keep) {}

    /// Whether a set with this score can still matter for the list of the best.
    bool wants(float score) const { return score <= limit_; }
    void add(const FoundSet& found);
    void add_front(const FoundSet& found);
    void merge(const SetPool& other);
    std::vector<FoundSet> best();         ///< by score
    std::vector<FoundSet> front() const;  ///< by score

  private:
    /// Steps of spread (0.1 dB), unevenness (0.1 dB), -level (0.5 dB): finer the model cannot tell.
    using Box = std::array<int, 3>;
    /// The cells of a set, rising, two to a number: compared at once, unlike an array.
    using Cells = std::pair<std::uint64_t, std::uint64_t>;
    struct Entry {
        Cells cells;
        FoundSet set;
    };
    struct Kept {
        Box box;
        FoundSet set;
    };
    void compact();

    const SetRules& rules_;
    int subs_;
    std::size_t keep_;
    float limit_ = 1e30f;
    std::vector<Entry> entries_;
    std::vector<Kept> front_;
    std::size_t beaten_by_ = 0;  ///< which of the front beat the last that was
};

/// By score, then by spots: a total order, so that ties fall the same way every time.
bool better(const FoundSet& a, const FoundSet& b);

}  // namespace boxroom
