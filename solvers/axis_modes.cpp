#include "solvers/axis_modes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/floor_vectors.hpp"
#include "solvers/imaginary_unit.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

// The library's complex functions guard against overflow, which nothing here comes near; these cost
// a third of them, and most of the solver's time goes into them.

inline Complex quotient(Complex a, Complex b) {
    const double scale = 1 / std::norm(b);
    return {(a.real() * b.real() + a.imag() * b.imag()) * scale,
            (a.imag() * b.real() - a.real() * b.imag()) * scale};
}

/// The root with a real part that is not negative.
inline Complex square_root(Complex z) {
    const double size = std::sqrt(std::norm(z));
    const double more = std::sqrt((size + std::abs(z.real())) / 2);
    if (more == 0) return 0;
    const double less = std::abs(z.imag()) / (2 * more);
    return z.real() >= 0 ? Complex{more, std::copysign(less, z.imag())}
                         : Complex{less, std::copysign(more, z.imag())};
}

inline Complex exponential(Complex z) {
    const double size = std::exp(z.real());
    return {size * std::cos(z.imag()), size * std::sin(z.imag())};
}

/// The same of what is added to one: nothing where it is too small to be seen there.
inline Complex echo(Complex z) {
    return z.real() < -45 ? Complex{} : exponential(z);
}

struct SineCosine {
    Complex sine;    ///< sin(qL)/q, entire in q^2
    Complex cosine;  ///< cos(qL)
};

SineCosine sine_cosine(Complex q2, double length) {
    if (std::norm(q2 * length * length) < 1e-12) {
        const Complex t = q2 * length * length;
        return {length * (1.0 - t / 6.0 + t * t / 120.0), 1.0 - t / 2.0 + t * t / 24.0};
    }
    const Complex q = square_root(q2), z = q * length;
    const double s = std::sin(z.real()), c = std::cos(z.real());
    const double e = std::expm1(z.imag()), f = e / (1 + e);
    const double sinh = (e + f) / 2, cosh = 1 + e * f / 2;
    return {quotient({s * cosh, c * sinh}, q), {c * cosh, -s * sinh}};
}

/// d/d(q^2) of sin(qL)/q.
Complex sine_slope(Complex q2, double length, const SineCosine& v) {
    if (std::norm(q2 * length * length) < 1e-8) {
        const Complex t = q2 * length * length;
        const double cube = length * length * length;
        return cube * (-1.0 / 6.0 + t / 60.0 - t * t / 1680.0);
    }
    return quotient(length * v.cosine - v.sine, 2.0 * q2);
}

struct Value {
    Complex f, slope;
};

Value characteristic(const AxisProblem& axis, Complex q2) {
    const SineCosine v = sine_cosine(q2, axis.length);
    const Complex sum = j * axis.k * (axis.b0 + axis.b1);
    const Complex shifted = q2 + axis.k * axis.k * axis.b0 * axis.b1;
    return {shifted * v.sine - sum * v.cosine,
            v.sine + shifted * sine_slope(q2, axis.length, v) + sum * axis.length * v.sine / 2.0};
}

/// Plain Newton steps from `root`.
Complex newton(const AxisProblem& axis, Complex root) {
    for (int iteration = 0; iteration < 30; ++iteration) {
        const Value v = characteristic(axis, root);
        const Complex step = quotient(v.f, v.slope);
        root -= step;
        if (!(std::abs(step) > 1e-13 * std::abs(root))) break;
    }
    return root;
}

/// First-order value: (n pi/L)^2 + eps_n j k (b0 + b1)/L.
Complex first_order(const AxisProblem& axis, int n) {
    const double rigid = n * pi / axis.length;
    return rigid * rigid + (n == 0 ? 1.0 : 2.0) * j * axis.k * (axis.b0 + axis.b1) / axis.length;
}

/// How far the ends move the roots: |k| (|b0| + |b1|) L.
double strength(const AxisProblem& axis) {
    return std::abs(axis.k) * (std::abs(axis.b0) + std::abs(axis.b1)) * axis.length;
}

/// Above this many, first order is off by less than a third of the gap (strength/(n pi^2) < 1/4),
/// so plain Newton finds each root from its own start.
int low_roots(const AxisProblem& axis, int count) {
    return std::min(count, 10 + static_cast<int>(0.4 * std::min(strength(axis), 1e4)));
}

/// Newton's method, the low roots with mutual repulsion; false if it does not settle.
bool refine(const AxisProblem& axis, std::vector<Complex>& root) {
    const int count = static_cast<int>(root.size());
    const int low = low_roots(axis, count);
    const double scale = pi * pi / (axis.length * axis.length);
    bool settled = false;
    for (int iteration = 0; iteration < 60 && !settled; ++iteration) {
        settled = true;
        for (int n = 0; n < low; ++n) {
            const Value v = characteristic(axis, root[n]);
            if (v.f == Complex{0}) continue;
            const Complex newton = quotient(v.f, v.slope);
            Complex repulsion = 0;
            for (int m = 0; m < low; ++m)
                if (m != n && root[m] != root[n]) repulsion += quotient(1.0, root[n] - root[m]);
            const Complex step = quotient(newton, 1.0 - newton * repulsion);
            if (!std::isfinite(step.real()) || !std::isfinite(step.imag())) return false;
            root[n] -= step;
            if (std::abs(step) > 1e-12 * (scale + std::abs(root[n]))) settled = false;
        }
    }
    for (int n = low; n < count; ++n) root[n] = newton(axis, root[n]);
    return settled;
}

/// With the processor's vectors, from the first-order values; empty where one does not settle.
std::vector<Complex> all_by_newton(const AxisProblem& axis, int count) {
    const std::size_t padded = static_cast<std::size_t>(count) + 8;
    std::vector<double> re(padded), im(padded);
    if (!floor_vectors().eigenvalues(axis_numbers(axis), count, {re.data(), im.data()})) return {};
    std::vector<Complex> root(count);
    for (int n = 0; n < count; ++n) root[n] = {re[n], im[n]};
    return root;
}

/// Sum rule: does the set hold each of the lowest roots exactly once?
bool complete(const AxisProblem& axis, const std::vector<Complex>& root) {
    const int count = static_cast<int>(root.size());
    const double unit = pi / axis.length;
    const Complex mu = -2.0 * unit * unit - 0.7 * j * unit * unit;
    const Value v = characteristic(axis, mu);
    Complex found = 0;
    for (const Complex& r : root) found += quotient(1.0, mu - r);
    // The roots above behave like (n pi/L)^2 + d; their sum is the full cotangent sum less its
    // start.
    const Complex d = 2.0 * j * axis.k * (axis.b0 + axis.b1) / axis.length;
    const Complex a = std::sqrt(mu - d) / unit;
    Complex tail = (pi / std::tan(pi * a) / a + 1.0 / (a * a)) / 2.0;
    for (int n = 0; n < count; ++n) tail -= quotient(1.0, a * a - static_cast<double>(n) * n);
    const Complex expected = v.slope / v.f - tail / (unit * unit);
    const double top = (count - 1) * unit, next = count * unit;
    const double smallest_fault = 1 / (top * top + unit * unit) - 1 / (next * next + unit * unit);
    return std::abs(found - expected) < 0.3 * smallest_fault;
}

/// The low eigenvalues from the weak form in Legendre polynomials, for walls that move roots far;
/// the rest to first order.
std::vector<Complex> legendre_galerkin(const AxisProblem& axis, int count) {
    const int low = low_roots(axis, count);
    const int size = 2 * low + 24;
    Eigen::MatrixXcd matrix(size, size);
    for (int a = 0; a < size; ++a) {
        for (int b = 0; b < size; ++b) {
            const int lesser = std::min(a, b);
            const double stiffness = (a + b) % 2 ? 0.0 : 2.0 * lesser * (lesser + 1) / axis.length;
            const double sign = (a + b) % 2 ? -1.0 : 1.0;
            const double norm = axis.length / std::sqrt((2.0 * a + 1) * (2.0 * b + 1));
            matrix(a, b) = (stiffness + j * axis.k * (axis.b1 + sign * axis.b0)) / norm;
        }
    }
    const Eigen::VectorXcd value = complex_parts(matrix, false).value;
    std::vector<Complex> root(value.begin(), value.end());
    std::sort(root.begin(), root.end(), [](Complex x, Complex y) { return x.real() < y.real(); });
    root.resize(low);
    for (int n = low; n < count; ++n) root.push_back(first_order(axis, n));
    return root;
}

}  // namespace

std::vector<Complex> axis_eigenvalues(const AxisProblem& axis, int count) {
    // The sum rule needs a few roots above those that the walls move about.
    const int working = std::max(count, 12 + static_cast<int>(std::min(strength(axis), 200.0)));

    // 1. From the first-order values, each by itself; where two came out alike, with repulsion.
    std::vector<Complex> root = all_by_newton(axis, working);
    bool good = !root.empty() && complete(axis, root);
    if (!good) {
        root.resize(working);
        for (int n = 0; n < working; ++n) root[n] = first_order(axis, n);
        good = refine(axis, root) && complete(axis, root);
    }
    // 2. Where that does not hold: from a matrix that has them all.
    if (!good) {
        root = legendre_galerkin(axis, working);
        refine(axis, root);
        good = complete(axis, root);
    }
    if (!good)
        throw NumericalFailure(
            "modal solver: the eigenvalues of an axis could not all be found. The walls are too "
            "soft for it; give them more resistance or mass, or use --solver grid.");
    root.resize(count);
    return root;
}

Complex axis_eigenvalue_near(const AxisProblem& axis, Complex near) {
    return newton(axis, near);
}

Complex axis_function(const AxisProblem& axis, Complex q2, double x) {
    const SineCosine v = sine_cosine(q2, x);
    return v.cosine + j * axis.k * axis.b0 * v.sine;
}

Complex axis_norm(const AxisProblem& axis, Complex q2) {
    const double length = axis.length;
    const SineCosine v = sine_cosine(q2, length);
    const Complex a = j * axis.k * axis.b0;
    const Complex product = v.sine * v.cosine;  // sin(2qL)/(2q)
    const Complex difference =                  // (L - sin(2qL)/(2q)) / (2 q^2)
        std::abs(q2) * length * length < 1e-4
            ? length * length * length * (1.0 / 3.0 - q2 * length * length / 15.0)
            : (length - product) / (2.0 * q2);
    return (length + product) / 2.0 + a * v.sine * v.sine + a * a * difference;
}

AxisGreen::AxisGreen(const AxisProblem& axis, Complex kappa_squared) : length_(axis.length) {
    Complex kappa = square_root(kappa_squared);
    if (kappa.imag() > 0) kappa = -kappa;
    r0_ = quotient(kappa - axis.k * axis.b0, kappa + axis.k * axis.b0);
    r1_ = quotient(kappa - axis.k * axis.b1, kappa + axis.k * axis.b1);
    minus_j_kappa_ = {kappa.imag(), -kappa.real()};
    scale_ =
        quotient(-0.5, minus_j_kappa_ * (1.0 - r0_ * r1_ * echo(2.0 * length_ * minus_j_kappa_)));
}

Complex AxisGreen::operator()(double x, double x_prime) const {
    const double below = std::min(x, x_prime), above = std::max(x, x_prime);
    const Complex direct = exponential(minus_j_kappa_ * (above - below));
    const Complex first = echo(2.0 * below * minus_j_kappa_);
    const Complex last = echo(2.0 * (length_ - above) * minus_j_kappa_);
    return direct * (1.0 + r0_ * first) * (1.0 + r1_ * last) * scale_;
}

Complex AxisGreen::below(double x) const {
    const Complex wave = exponential(x * minus_j_kappa_);
    return quotient(1.0, wave) + r0_ * wave;
}

Complex AxisGreen::above(double x) const {
    const Complex last = echo(2.0 * (length_ - x) * minus_j_kappa_);
    return exponential(x * minus_j_kappa_) * (1.0 + r1_ * last) * scale_;
}

Complex axis_green(const AxisProblem& axis, Complex kappa_squared, double x, double x_prime) {
    return AxisGreen(axis, kappa_squared)(x, x_prime);
}

}  // namespace boxroom
