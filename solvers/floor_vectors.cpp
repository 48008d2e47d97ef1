#include "solvers/floor_vectors.hpp"

#include "solvers/axis_modes.hpp"

BOXROOM_VECTOR_TABLE(FloorVectors, floor_vectors)

namespace boxroom {

AxisNumbers axis_numbers(const AxisProblem& axis) {
    const std::complex<double> jk{-axis.k.imag(), axis.k.real()}, end0 = jk * axis.b0,
                                                                  end1 = jk * axis.b1;
    return {axis.length, end0.real(), end0.imag(), end1.real(), end1.imag()};
}

}  // namespace boxroom
