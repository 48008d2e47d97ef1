#include "placement/set_pool.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

bool better(const FoundSet& a, const FoundSet& b) {
    return a.score != b.score ? a.score < b.score : a.spot < b.spot;
}

void SetPool::add(const FoundSet& found) {
    if (!wants(found.score)) return;
    static_assert(most_subs == 4);
    std::array<std::uint32_t, most_subs> cells{};
    for (int k = 0; k < subs_; ++k)
        cells[k] = static_cast<std::uint32_t>(rules_.cell[found.spot[k]]);
    std::sort(cells.begin(), cells.begin() + subs_);
    const auto both = [](std::uint64_t a, std::uint32_t b) { return a << 32 | b; };
    entries_.push_back({{both(cells[0], cells[1]), both(cells[2], cells[3])}, found});
    if (entries_.size() > 4 * keep_ + 200) compact();
}

/// The best of each combination of cells, as many as are kept.
void SetPool::compact() {
    std::sort(entries_.begin(), entries_.end(),
              [](const Entry& a, const Entry& b) { return better(a.set, b.set); });
    std::vector<Cells> known;  // rising
    std::size_t kept = 0;
    for (std::size_t n = 0; n < entries_.size() && kept < keep_; ++n) {
        const auto at = std::lower_bound(known.begin(), known.end(), entries_[n].cells);
        if (at != known.end() && *at == entries_[n].cells) continue;
        known.insert(at, entries_[n].cells);
        entries_[kept++] = entries_[n];
    }
    entries_.resize(kept);
    if (kept == keep_) limit_ = entries_.back().set.score;
}

void SetPool::add_front(const FoundSet& found) {
    const Box box{static_cast<int>(std::floor(found.spread_db * 10)),
                  static_cast<int>(std::floor(found.unevenness_db * 10)),
                  static_cast<int>(std::floor(-found.level_db * 2))};
    const auto dominates = [](const Box& a, const Box& b) {
        return a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2];
    };
    // Millions come by, and what beat one beats the next as well, as a rule. None of the front
    // beats another, so whichever is met first decides.
    if (beaten_by_ >= front_.size() || !dominates(front_[beaten_by_].box, box)) {
        const auto by =
            std::ranges::find_if(front_, [&](const Kept& k) { return dominates(k.box, box); });
        if (by == front_.end()) {
            std::erase_if(front_, [&](const Kept& k) { return dominates(box, k.box); });
            front_.push_back({box, found});
            return;
        }
        beaten_by_ = static_cast<std::size_t>(by - front_.begin());
    }
    Kept& there = front_[beaten_by_];
    if (there.box == box && better(found, there.set)) there.set = found;
}

void SetPool::merge(const SetPool& other) {
    for (const Entry& entry : other.entries_) add(entry.set);
    for (const Kept& kept : other.front_) add_front(kept.set);
}

std::vector<FoundSet> SetPool::best() {
    compact();
    std::vector<FoundSet> sets;
    for (const Entry& entry : entries_) sets.push_back(entry.set);
    return sets;
}

std::vector<FoundSet> SetPool::front() const {
    std::vector<FoundSet> sets;
    for (const Kept& kept : front_) sets.push_back(kept.set);
    std::sort(sets.begin(), sets.end(), better);
    return sets;
}

}  // namespace boxroom
