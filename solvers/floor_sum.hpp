#pragma once
#include <array>
#include <complex>
#include <span>
#include <vector>

#include "solvers/axis_modes.hpp"
#include "solvers/floor_layout.hpp"
#include "solvers/floor_vectors.hpp"
#include "solvers/product_vectors.hpp"
#include "solvers/room.hpp"

namespace boxroom {

/// Complex numbers as two planes, which the kernels work on.
template <typename Real>
struct Planes {
    std::vector<Real> re, im;
    void resize(std::size_t size) { re.resize(size), im.resize(size); }
    void set(std::size_t i, std::complex<double> v) {
        re[i] = static_cast<Real>(v.real()), im[i] = static_cast<Real>(v.imag());
    }
};

/// The sum of modal_transfer over a floor of sources at once, for modal_transfer_many. Modes m and
/// n are those along the layout's axes a and b.
class FloorSum {
  public:
    /// Between the heights of sources and receivers along c [m]: closer ones decay too slowly.
    static constexpr double least_distance = 0.03;
    /// Which n of each m a sum runs over: from begin[m] to before end[m].
    struct Rows {
        std::vector<int> begin, end;
    };
    /// q^2 of the modes along a and b at one frequency, [mode].
    struct Eigenvalues {
        Planes<double> m, n;
    };
    /// What one thread works with, kept from frequency to frequency.
    struct Workspace {
        Eigenvalues q2;
        Planes<double> left, right;  ///< [receiver][m], [receiver][n]: psi/Lambda there
        Planes<float> at_a, at_b;    ///< [m][on_a], [n][on_b]: psi of the sources
        Planes<float> terms;         ///< [m][height][receiver][n]
        Planes<float> inner;         ///< [m][receiver][column]: summed over n
        Planes<float> out;           ///< [receiver][slot]
        std::vector<float> scratch;
    };

    FloorSum(const Room& room, const Air& air, const FloorLayout& layout,
             std::span<const Point> receivers, double decay);
    /// The terms that have not decayed at a frequency.
    Rows all_terms(double frequency) const;
    /// Those that spread at a frequency, and do not decay.
    Rows spreading_terms(double frequency) const;
    /// The sum over some terms for every receiver and slot, to w.out.
    void add_up(double frequency, const Rows& rows, Workspace& w) const;
    /// add_up from eigenvalues that are nearly known: w.q2, of the rows' modes at least.
    void add_up_from_near(double frequency, const Rows& rows, Workspace& w) const;
    std::size_t size() const { return receivers_ * layout_.slots; }
    /// The room's axes at a frequency.
    std::array<AxisProblem, 3> axes(double frequency) const;
    /// w.out for every receiver and source; the sources of one receiver side by side.
    void give(const Workspace& w, std::complex<float>* z) const;

  private:
    struct Frequency {
        double frequency;
        std::array<AxisProblem, 3> axis;
        AxisNumbers a, b, c;
        int m_count, n_count;
        std::size_t n_step;  ///< n_count, padded
    };
    Frequency begin(double frequency, const Rows& rows) const;
    Eigenvalues eigenvalues(const Frequency& f) const;
    void add_up_from(const Frequency& f, const Rows& rows, Workspace& w) const;
    void mode_functions(const Frequency& f, Workspace& w) const;
    void closed_form(const Frequency& f, const Rows& rows, std::complex<double> factor,
                     Workspace& w) const;
    void contract(const Frequency& f, const Rows& rows, Workspace& w) const;
    void sum_over_n(const Frequency& f, const Rows& rows, int height, int m, int to,
                    Workspace& w) const;
    /// The terms with q_m^2 + q_n^2 up to `beyond`, by the rigid room's values.
    Rows rows_within(double beyond) const;

    const Room& room_;
    const Air& air_;
    const FloorLayout& layout_;
    double decay_;
    const FloorVectors& kernel_ = floor_vectors();
    const ProductVectors& product_ = product_vectors();
    std::size_t receivers_;
    std::vector<double> receiver_a_, receiver_b_;
    std::vector<double> receiver_heights_, source_heights_;
    std::vector<int> height_of_;  ///< of each receiver
};

}  // namespace boxroom
