#include "solvers/nested_factor.hpp"

#include <algorithm>
#include <array>
#include <numeric>

namespace boxroom {

namespace {

std::vector<int> distinct(std::vector<int> u) {
    std::sort(u.begin(), u.end());
    u.erase(std::unique(u.begin(), u.end()), u.end());
    return u;
}

}  // namespace

NestedOrder::NestedOrder(int unknowns, std::vector<std::vector<int>> unknown,
                         const std::vector<std::array<double, 3>>& centre)
    : unknowns_(unknowns), unknown_(std::move(unknown)) {
    std::vector<int> all(unknown_.size());
    std::iota(all.begin(), all.end(), 0);
    divide(all, centre);

    // Upwards: an unknown is a part's own once every element that has it is in the part.
    std::vector<int> uses(unknowns, 0), place(unknowns, 0), met(unknowns, 0);
    for (auto& of_element : unknown_)
        for (const int u : distinct(of_element)) ++uses[u];
    std::vector<std::vector<int>> rim_met(part_.size());  // by how many of the part's elements
    for (std::size_t n = 0; n < part_.size(); ++n) {
        Part& part = part_[n];
        std::vector<int> here;
        if (part.element >= 0) {
            here = distinct(unknown_[part.element]);
            for (const int u : here) met[u] = 1;
        } else {
            for (const int half : {part.first, part.second})
                for (std::size_t i = 0; i < part_[half].rim.size(); ++i) {
                    const int u = part_[half].rim[i];
                    here.push_back(u);
                    met[u] += rim_met[half][i];
                }
            here = distinct(here);
        }
        for (const int u : here) {
            if (met[u] == uses[u]) {
                part.own.push_back(u);
            } else {
                part.rim.push_back(u);
                rim_met[n].push_back(met[u]);
            }
            met[u] = 0;
        }
    }
    // Rims in the order in which their unknowns go: what is together in one is so in the next.
    std::vector<int> turn(unknowns);
    int next = 0;
    for (const Part& part : part_)
        for (const int u : part.own) turn[u] = next++;
    for (Part& part : part_) {
        std::ranges::sort(part.rim, {}, [&](int u) { return turn[u]; });
        set_places(part, place);
    }
}

/// Where the unknowns of the halves, or of the element, are in a part's own + rim.
void NestedOrder::set_places(Part& part, std::vector<int>& place) const {
    int n = 0;
    for (const int u : part.own) place[u] = n++;
    for (const int u : part.rim) place[u] = n++;
    const auto runs = [&](const std::vector<int>& rim) {
        std::vector<Part::Run> all;
        for (int from = 0; from < std::ssize(rim); ++from) {
            const int to = place[rim[from]];
            if (all.empty() || all.back().to + all.back().count != to) all.push_back({from, to, 0});
            ++all.back().count;
        }
        return all;
    };
    if (part.element >= 0) {
        for (const int u : unknown_[part.element]) part.element_place.push_back(place[u]);
    } else {
        part.first_runs = runs(part_[part.first].rim);
        part.second_runs = runs(part_[part.second].rim);
    }
}

/// Cuts a set of elements where the halves share the fewest unknowns; the index of its part.
int NestedOrder::divide(std::vector<int>& elements,
                        const std::vector<std::array<double, 3>>& centre) {
    if (elements.size() == 1) {
        part_.push_back({});
        part_.back().element = elements[0];
        return static_cast<int>(part_.size()) - 1;
    }
    std::size_t best = std::numeric_limits<std::size_t>::max();
    std::vector<int> best_first, best_second;
    std::vector<int> side(unknowns_, 0);
    for (int axis = 0; axis < 3; ++axis) {
        std::stable_sort(elements.begin(), elements.end(),
                         [&](int a, int b) { return centre[a][axis] < centre[b][axis]; });
        // Weighed by unknowns: cuts that leave a side less than a quarter are not tried.
        std::size_t all = 0, before = 0;
        for (const int e : elements) all += unknown_[e].size();
        std::vector<std::size_t> cuts;
        for (std::size_t n = 1; n < elements.size(); ++n) {
            before += unknown_[elements[n - 1]].size();
            if (centre[elements[n]][axis] - centre[elements[n - 1]][axis] < 1e-9) continue;
            if (4 * before >= all && 4 * before <= 3 * all) cuts.push_back(n);
        }
        if (cuts.empty() && best_first.empty()) cuts.push_back(elements.size() / 2);
        for (const std::size_t cut : cuts) {
            std::size_t shared = 0;
            for (std::size_t n = 0; n < cut; ++n)
                for (const int u : unknown_[elements[n]]) side[u] = 1;
            for (std::size_t n = cut; n < elements.size(); ++n)
                for (const int u : unknown_[elements[n]])
                    if (side[u] == 1) side[u] = 2, ++shared;
            for (const int e : elements)
                for (const int u : unknown_[e]) side[u] = 0;
            if (shared >= best) continue;
            best = shared;
            best_first.assign(elements.begin(), elements.begin() + static_cast<long>(cut));
            best_second.assign(elements.begin() + static_cast<long>(cut), elements.end());
        }
    }
    const int first = divide(best_first, centre), second = divide(best_second, centre);
    part_.push_back({});
    part_.back().first = first, part_.back().second = second;
    return static_cast<int>(part_.size()) - 1;
}

namespace {

/// Adds an element's matrix into the lower half of a front; where two of its unknowns are one, both
/// count.
template <typename Real>
void add_element(ComplexPlanes<Real>& front, const Eigen::MatrixXcd& m,
                 const std::vector<int>& place) {
    for (std::size_t b = 0; b < place.size(); ++b)
        for (std::size_t a = 0; a < place.size(); ++a)
            if (place[a] >= place[b]) {
                front.re(place[a], place[b]) += static_cast<Real>(m(a, b).real());
                front.im(place[a], place[b]) += static_cast<Real>(m(a, b).imag());
            }
}

/// Adds the lower half of what a half leaves, from a row and column on, into that of its whole.
template <typename Plane>
void add_half(Plane& front, const Plane& half, Eigen::Index rim,
              const std::vector<NestedOrder::Part::Run>& runs) {
    const auto left = half.bottomRightCorner(half.rows() - rim, half.cols() - rim);
    for (auto b = runs.begin(); b != runs.end(); ++b)
        for (int n = 0; n < b->count; ++n) {
            const int column = b->from + n, to = b->to + n;
            front.col(to).segment(to, b->count - n) +=
                left.col(column).segment(column, b->count - n);
            for (auto a = b + 1; a != runs.end(); ++a) {
                const auto below = left.col(column).segment(a->from, a->count);
                if (a->to > to)
                    front.col(to).segment(a->to, a->count) += below;
                else
                    front.row(to).segment(a->to, a->count) += below.transpose();
            }
        }
}

/// A front in which nothing is yet: the lower half, from a whole vector on.
template <typename Real>
ComplexPlanes<Real> empty_front(Eigen::Index own, Eigen::Index rim) {
    constexpr Eigen::Index step = ComplexPlanes<Real>::step;
    ComplexPlanes<Real> front(own + rim, own + rim);
    for (Eigen::Index column = 0; column < own + rim; ++column) {
        const Eigen::Index count = front.whole_rows() - column / step * step;
        front.re.col(column).segment(column / step * step, count).setZero();
        front.im.col(column).segment(column / step * step, count).setZero();
    }
    return front;
}

}  // namespace

template <typename Real>
NestedFactor<Real>::NestedFactor(std::shared_ptr<const NestedOrder> order,
                                 const ElementMatrix& matrix)
    : order_(std::move(order)) {
    const auto& parts = order_->parts();
    front_.reserve(parts.size());
    std::vector<ComplexPlanes<Real>> done(parts.size());  // what is left for the whole
    for (std::size_t n = 0; n < parts.size(); ++n) {
        const NestedOrder::Part& part = parts[n];
        const auto own = static_cast<Eigen::Index>(part.own.size());
        auto front = empty_front<Real>(own, static_cast<Eigen::Index>(part.rim.size()));
        const auto add = [&](int half, const std::vector<NestedOrder::Part::Run>& runs) {
            const Eigen::Index rim = front_[half].own();
            add_half(front.re, done[half].re, rim, runs);
            add_half(front.im, done[half].im, rim, runs);
            done[half] = {};
        };
        if (part.element >= 0) {
            add_element(front, matrix(part.element), part.element_place);
        } else {
            add(part.first, part.first_runs);
            add(part.second, part.second_runs);
        }
        front_.emplace_back(front, own);
        done[n] = std::move(front);
    }
}

template <typename Real>
Eigen::MatrixXcd NestedFactor<Real>::solve(const Eigen::MatrixXcd& right) const {
    const auto& parts = order_->parts();
    auto x = planes_across<Real>(right);
    const auto gather = [&x](const NestedOrder::Part& part) {
        ComplexPlanes<Real> some(x.rows(),
                                 static_cast<Eigen::Index>(part.own.size() + part.rim.size()));
        Eigen::Index i = 0;
        for (const auto* columns : {&part.own, &part.rim})
            for (const int u : *columns) {
                some.re.col(i) = x.re.col(u);
                some.im.col(i++) = x.im.col(u);
            }
        return some;
    };
    const auto scatter = [&x](const std::vector<int>& columns, const ComplexPlanes<Real>& some,
                              Eigen::Index first) {
        for (std::size_t i = 0; i < columns.size(); ++i) {
            x.re.col(columns[i]) = some.re.col(first + static_cast<Eigen::Index>(i));
            x.im.col(columns[i]) = some.im.col(first + static_cast<Eigen::Index>(i));
        }
    };
    for (std::size_t n = 0; n < parts.size(); ++n) {
        if (parts[n].own.empty()) continue;
        auto here = gather(parts[n]);
        front_[n].forwards(here);
        scatter(parts[n].own, here, 0);
        scatter(parts[n].rim, here, front_[n].own());
    }
    for (std::size_t n = parts.size(); n-- > 0;) {
        if (parts[n].own.empty()) continue;
        auto here = gather(parts[n]);
        front_[n].backwards(here);
        scatter(parts[n].own, here, 0);
    }
    return numbers_across(x);
}

template class NestedFactor<float>;
template class NestedFactor<double>;

}  // namespace boxroom
