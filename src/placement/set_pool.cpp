#include "placement/set_pool.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

bool better(const FoundSet& a, const FoundSet& b) {
    return a.score != b.score ? a.score < b.score : a.spot < b.spot;
}

void SetPool::add(const FoundSet& found) {
    if (!wants(found.score)) return;
    Entry entry{{-1, -1, -1, -1}, found};
    for (int k = 0; k < subs_; ++k) entry.cells[k] = rules_.cell[found.spot[k]];
    std::sort(entry.cells.begin(), entry.cells.begin() + subs_);
    entries_.push_back(entry);
    if (entries_.size() > 16 * keep_ + 1000) compact();
}

void SetPool::compact() {
    std::sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
        return a.cells != b.cells ? a.cells < b.cells : better(a.set, b.set);
    });
    entries_.erase(std::unique(entries_.begin(), entries_.end(),
                               [](const Entry& a, const Entry& b) { return a.cells == b.cells; }),
                   entries_.end());
    std::sort(entries_.begin(), entries_.end(),
              [](const Entry& a, const Entry& b) { return better(a.set, b.set); });
    if (entries_.size() <= keep_) return;
    entries_.resize(keep_);
    limit_ = entries_.back().set.score;
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
