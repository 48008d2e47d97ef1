#include "solvers/floor_sum.hpp"

#include <algorithm>
#include <cmath>

#include "solvers/modal_parts.hpp"

namespace boxroom {

using namespace modal_parts;

namespace {

std::size_t in_whole_vectors(std::size_t count) {
    return (count + 15) / 16 * 16;
}

ModeNumbers numbers(Planes<double>& planes, std::size_t from = 0) {
    return {planes.re.data() + from, planes.im.data() + from};
}

}  // namespace

FloorSum::FloorSum(const Room& room, const Air& air, const FloorLayout& layout,
                   std::span<const Point> receivers, double decay)
    : room_(room), air_(air), layout_(layout), decay_(decay), receivers_(receivers.size()) {
    for (const Point& p : receivers) {
        const auto at = coordinates(p);
        receiver_a_.push_back(at[layout.a]), receiver_b_.push_back(at[layout.b]);
        const auto known =
            std::find_if(receiver_heights_.begin(), receiver_heights_.end(),
                         [&](double h) { return std::abs(h - at[layout.c]) < 1e-7; });
        height_of_.push_back(static_cast<int>(known - receiver_heights_.begin()));
        if (known == receiver_heights_.end()) receiver_heights_.push_back(at[layout.c]);
    }
    for (const auto& height : layout.heights) source_heights_.push_back(height.at);
}

std::array<AxisProblem, 3> FloorSum::axes(double frequency) const {
    return axis_problems(room_, air_, frequency);
}

FloorSum::Rows FloorSum::rows_within(double beyond) const {
    const double a = pi / sides(room_)[layout_.a], b = pi / sides(room_)[layout_.b];
    Rows rows;
    for (int m = 0; m * m * a * a <= beyond; ++m) {
        rows.begin.push_back(0);
        rows.end.push_back(static_cast<int>(std::sqrt(beyond - m * m * a * a) / b) + 1);
    }
    return rows;
}

FloorSum::Rows FloorSum::all_terms(double frequency) const {
    const double k = 2 * pi * frequency / air_.speed_of_sound;
    return rows_within(std::pow(decay_ / layout_.distance, 2) + k * k);
}

FloorSum::Rows FloorSum::spreading_terms(double frequency) const {
    const double k = 2 * pi * frequency / air_.speed_of_sound;
    return rows_within(k * k);
}

FloorSum::Frequency FloorSum::begin(double frequency, const Rows& rows) const {
    Frequency f{frequency, axes(frequency), {}, {}, {}, 0, 0, 0};
    f.a = axis_numbers(f.axis[layout_.a]);
    f.b = axis_numbers(f.axis[layout_.b]);
    f.c = axis_numbers(f.axis[layout_.c]);
    f.m_count = static_cast<int>(rows.end.size());
    f.n_count = *std::max_element(rows.end.begin(), rows.end.end());
    f.n_step = in_whole_vectors(f.n_count);
    return f;
}

/// 1. The eigenvalues along a and b.
FloorSum::Eigenvalues FloorSum::eigenvalues(const Frequency& f) const {
    const auto of = [](const AxisProblem& axis, int count) {
        const auto root = axis_eigenvalues(axis, count);
        Planes<double> q2;
        q2.resize(in_whole_vectors(count) + 16);
        for (std::size_t n = 0; n < q2.re.size(); ++n) q2.set(n, root[std::min<int>(n, count - 1)]);
        return q2;
    };
    return {of(f.axis[layout_.a], f.m_count), of(f.axis[layout_.b], f.n_count)};
}

/// 2. Mode functions at the sources; at the receivers divided by Lambda.
void FloorSum::mode_functions(const Frequency& f, Workspace& w) const {
    const auto &on_a = layout_.on_a, &on_b = layout_.on_b;
    w.at_a.resize(f.m_count * on_a.size());
    w.at_b.resize(f.n_count * on_b.size());
    kernel_.mode_functions(f.a, f.m_count, numbers(w.q2.m), on_a.data(), on_a.size(),
                           w.at_a.re.data(), w.at_a.im.data(), on_a.size());
    kernel_.mode_functions(f.b, f.n_count, numbers(w.q2.n), on_b.data(), on_b.size(),
                           w.at_b.re.data(), w.at_b.im.data(), on_b.size());
    w.left.resize(receivers_ * in_whole_vectors(f.m_count));
    w.right.resize(receivers_ * f.n_step + 16);
    const int rows = static_cast<int>(receivers_);
    kernel_.weighted(f.a, f.m_count, numbers(w.q2.m), receiver_a_.data(), rows, numbers(w.left),
                     in_whole_vectors(f.m_count));
    kernel_.weighted(f.b, f.n_count, numbers(w.q2.n), receiver_b_.data(), rows, numbers(w.right),
                     f.n_step);
}

/// 3. The third axis in closed form, for every pair of heights, with the receivers' factors.
void FloorSum::closed_form(const Frequency& f, const Rows& rows, Complex factor,
                           Workspace& w) const {
    const std::size_t per_height = receivers_ * f.n_step,
                      per_m = source_heights_.size() * per_height;
    w.terms.resize(f.m_count * per_m + 16);
    w.scratch.resize(64 * (source_heights_.size() + receiver_heights_.size()));
    const Complex k2 = f.axis[layout_.c].k * f.axis[layout_.c].k;
    for (int m = 0; m < f.m_count; ++m) {
        RowOfTerms row{};
        row.axis = &f.c;
        row.kappa2_re = k2.real() - w.q2.m.re[m], row.kappa2_im = k2.imag() - w.q2.m.im[m];
        const int from = rows.begin[m];
        row.q2 = numbers(w.q2.n, from), row.count = rows.end[m] - from;
        row.source_height = source_heights_.data(), row.receiver_height = receiver_heights_.data();
        row.source_heights = static_cast<int>(source_heights_.size());
        row.receiver_heights = static_cast<int>(receiver_heights_.size());
        row.receivers = static_cast<int>(receivers_), row.height_of = height_of_.data();
        row.factor_re = factor.real(), row.factor_im = factor.imag();
        row.left = numbers(w.left, m),
        row.left_step = static_cast<int>(in_whole_vectors(f.m_count));
        row.right = numbers(w.right, from), row.right_step = static_cast<int>(f.n_step);
        row.out_re = w.terms.re.data() + m * per_m + from;
        row.out_im = w.terms.im.data() + m * per_m + from;
        row.height_step = static_cast<int>(per_height);
        row.receiver_step = static_cast<int>(f.n_step);
        row.scratch = w.scratch.data();
        kernel_.row_of_terms(row);
    }
}

/// The sum over n for one m and all columns of one height, into row `to` of `inner`.
void FloorSum::sum_over_n(const Frequency& f, const Rows& rows, int height, int m, int to,
                          Workspace& w) const {
    const auto& h = layout_.heights[height];
    const int first = rows.begin[m];
    const std::size_t from = (m * source_heights_.size() + height) * receivers_ * f.n_step + first,
                      at = h.first_b + first * layout_.on_b.size(),
                      into = static_cast<std::size_t>(to) * receivers_ * h.columns;
    const int count = static_cast<int>(receivers_), n_step = static_cast<int>(f.n_step),
              b_step = static_cast<int>(layout_.on_b.size());
    // Of a row that is empty, these begin behind the last.
    product_.product({count, rows.end[m] - first, h.columns, w.terms.re.data() + from,
                      w.terms.im.data() + from, n_step, 1, w.at_b.re.data() + at,
                      w.at_b.im.data() + at, b_step, &w.inner.re[into], &w.inner.im[into],
                      h.columns});
}

/// 4. Over n for every column along b, then over m for every source.
void FloorSum::contract(const Frequency& f, const Rows& rows, Workspace& w) const {
    const int count = static_cast<int>(receivers_), a_step = static_cast<int>(layout_.on_a.size());
    w.out.resize(receivers_ * layout_.slots);
    for (auto* plane : {&w.out.re, &w.out.im}) std::fill(plane->begin(), plane->end(), 0.0f);
    const int used = f.m_count;
    std::size_t group = 0;
    for (std::size_t h = 0; h < layout_.heights.size(); ++h) {
        const auto& height = layout_.heights[h];
        w.inner.resize(static_cast<std::size_t>(used) * receivers_ * height.columns);
        for (int m = 0; m < used; ++m) {
            sum_over_n(f, rows, static_cast<int>(h), m, layout_.scattered ? 0 : m, w);
            if (layout_.scattered) {
                const std::size_t at = static_cast<std::size_t>(m) * a_step + height.first_b;
                product_.add_products(count, height.columns, w.inner.re.data(), w.inner.im.data(),
                                      height.columns, &w.at_a.re[at], &w.at_a.im[at],
                                      &w.out.re[height.first_b], &w.out.im[height.first_b],
                                      layout_.slots);
            }
        }
        for (; group < layout_.groups.size() && layout_.groups[group].height == static_cast<int>(h);
             ++group) {
            const auto& g = layout_.groups[group];
            product_.product({count, used, g.slots, &w.inner.re[g.column], &w.inner.im[g.column],
                              height.columns, count * height.columns, &w.at_a.re[g.first_a],
                              &w.at_a.im[g.first_a], a_step, &w.out.re[g.slot], &w.out.im[g.slot],
                              layout_.slots});
        }
    }
}

/// 2. to 4., from the eigenvalues.
void FloorSum::add_up_from(const Frequency& f, const Rows& rows, Workspace& w) const {
    mode_functions(f, w);
    closed_form(f, rows, source_factor(room_, air_, f.frequency), w);
    contract(f, rows, w);
}

void FloorSum::add_up(double frequency, const Rows& rows, Workspace& w) const {
    const Frequency f = begin(frequency, rows);
    w.q2 = eigenvalues(f);
    add_up_from(f, rows, w);
}

void FloorSum::add_up_from_near(double frequency, const Rows& rows, Workspace& w) const {
    const Frequency f = begin(frequency, rows);
    for (int round = 0; round < 2; ++round) {
        kernel_.polish(f.a, f.m_count, numbers(w.q2.m));
        kernel_.polish(f.b, f.n_count, numbers(w.q2.n));
    }
    add_up_from(f, rows, w);
}

void FloorSum::give(const Workspace& w, std::complex<float>* z) const {
    for (std::size_t r = 0; r < receivers_; ++r)
        for (const auto& run : layout_.runs) {
            const float *re = &w.out.re[r * layout_.slots + run.slot],
                        *im = &w.out.im[r * layout_.slots + run.slot];
            for (int i = 0; i < run.count; ++i) z[i] = {re[i], im[i]};
            z += run.count;
        }
}

}  // namespace boxroom
