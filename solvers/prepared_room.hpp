#pragma once
#include <array>
#include <cmath>
#include <complex>
#include <map>
#include <span>
#include <utility>
#include <vector>

#include "solvers/axis_modes.hpp"
#include "solvers/room.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// A room whose frequencies stay and in which sources and receivers are moved about.
///
/// The sum of modal_transfer with the height in closed form: Z = j w rho sum_mn psi_m(x) psi_m(x')/
/// Lambda_m psi_n(y) psi_n(y')/Lambda_n G_mn(z, z'). The eigenvalues depend on the walls alone and
/// G_mn on the two heights alone, as a product of one factor each; all of it is kept, so that
/// moving a point over the floor costs two rows of mode functions and one sum of products a
/// frequency, and lifting it one factor more. Pairs nearer in height than 0.30 m (in rooms above 6
/// m: than 5 % of the height), where that sum converges slowly, go through modal_transfer.
class PreparedRoom {
  public:
    PreparedRoom(const Room& room, const Air& air, std::span<const double> frequency);

    const Room& room() const { return room_; }
    /// Another wall; only what depends on it is worked out again.
    void set_wall(int index, const Wall& wall);
    /// Z [Pa s/m3], within 0.001 dB of modal_transfer away from nulls. Throws Error for points
    /// outside the room.
    TransferImpedance<double> transfer(std::span<const Point> sources,
                                       std::span<const Point> receivers);

  private:
    /// Eigenvalues of one horizontal axis, [frequency][mode], and 1/Lambda.
    struct Axis {
        int count = 0;
        std::vector<std::complex<double>> q2, weight;
    };
    /// psi(x) of every mode of one axis at one coordinate, [frequency][mode], as two planes.
    struct Line {
        int count = 0;
        std::vector<double> re, im;
    };
    /// G_mn for one pair of heights, rows of n one after another, cut off where they have decayed.
    struct Heights {
        std::vector<double> re, im;
        std::vector<int> first;    ///< [frequency]: where its values start
        std::vector<int> row_end;  ///< [frequency * rows + m]: how many n
        int rows = 0;
    };
    /// What the terms of the sum are whatever the heights, as far as pairs `distance` apart need
    /// them: rows of n one after another, [frequency][m][n].
    struct Terms {
        double distance = HUGE_VAL;
        std::vector<AxisGreen> green;
        std::vector<std::complex<double>> scale;
        std::vector<int> first, row_end;  ///< as in Heights
        int rows = 0;
    };
    double nearest_heights() const;
    void prepare_axis(int axis, int count);
    void prepare_terms(double distance);
    std::size_t count_terms(double distance, std::vector<int>& first,
                            std::vector<int>& row_end) const;
    const std::vector<std::complex<double>>& factor(bool above, double height);
    const Line& line(int axis, double coordinate);
    const Heights& heights(double source, double receiver);
    std::complex<double> sum(std::size_t f, const Heights& g, const Line& source_x,
                             const Line& source_y, const Line& receiver_x,
                             const Line& receiver_y) const;

    Room room_;
    Air air_;
    std::vector<double> frequency_;
    std::array<Axis, 2> axis_;
    std::array<std::map<double, Line>, 2> lines_;
    Terms terms_;
    std::map<double, std::vector<std::complex<double>>> below_, above_;
    std::map<std::pair<double, double>, Heights> heights_;
};

}  // namespace boxroom
