#include "solvers/lobatto.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace boxroom::lobatto {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// P_n(x) and P'_n(x) by the recurrence of Bonnet.
std::pair<double, double> legendre(int n, double x) {
    double before = 1, here = x;
    if (n == 0) return {1, 0};
    for (int k = 1; k < n; ++k) {
        const double next = ((2 * k + 1) * x * here - k * before) / (k + 1);
        before = here, here = next;
    }
    const double slope = std::abs(x) == 1 ? n * (n + 1) / 2.0 * (x > 0 || n % 2 ? 1 : -1)
                                          : n * (before - x * here) / (1 - x * x);
    return {here, slope};
}

VectorXd find_nodes(int degree) {
    VectorXd x(degree + 1);
    for (int i = 0; i <= degree; ++i) {
        double at = -std::cos(std::numbers::pi * i / degree);
        for (int step = 0; step < 30 && i > 0 && i < degree; ++step) {
            const auto [p, slope] = legendre(degree, at);
            // (1 - x^2) P'' = 2x P' - n (n + 1) P
            const double bend = (2 * at * slope - degree * (degree + 1) * p) / (1 - at * at);
            at -= slope / bend;
        }
        x(i) = i == 0 ? -1 : i == degree ? 1 : at;
    }
    return x;
}

struct Line {
    VectorXd nodes;
    MatrixXd mass, stiffness;
};

MatrixXd values_at(const VectorXd& x, const VectorXd& at) {
    MatrixXd v = MatrixXd::Ones(at.size(), x.size());
    for (Eigen::Index p = 0; p < at.size(); ++p)
        for (Eigen::Index n = 0; n < x.size(); ++n)
            for (Eigen::Index m = 0; m < x.size(); ++m)
                if (m != n) v(p, n) *= (at(p) - x(m)) / (x(n) - x(m));
    return v;
}

MatrixXd slopes_at(const VectorXd& x, const VectorXd& at) {
    MatrixXd v = MatrixXd::Zero(at.size(), x.size());
    for (Eigen::Index p = 0; p < at.size(); ++p)
        for (Eigen::Index n = 0; n < x.size(); ++n)
            for (Eigen::Index left = 0; left < x.size(); ++left) {
                if (left == n) continue;
                double product = 1 / (x(n) - x(left));
                for (Eigen::Index m = 0; m < x.size(); ++m)
                    if (m != n && m != left) product *= (at(p) - x(m)) / (x(n) - x(m));
                v(p, n) += product;
            }
    return v;
}

const Line& line(int degree) {
    static const std::array<Line, highest_degree + 1> table = [] {
        std::array<Line, highest_degree + 1> made;
        for (int p = 1; p <= highest_degree; ++p) {
            const VectorXd x = find_nodes(p);
            const Quadrature q = gauss(p + 1);
            const MatrixXd v = values_at(x, q.at), s = slopes_at(x, q.at);
            made[p] = {x, v.transpose() * q.weight.asDiagonal() * v,
                       s.transpose() * q.weight.asDiagonal() * s};
        }
        return made;
    }();
    return table.at(degree);
}

}  // namespace

const VectorXd& nodes(int degree) {
    return line(degree).nodes;
}

Quadrature gauss(int count) {
    Quadrature q{VectorXd(count), VectorXd(count)};
    for (int i = 0; i < count; ++i) {
        double at = -std::cos(std::numbers::pi * (i + 0.75) / (count + 0.5));
        for (int step = 0; step < 30; ++step) {
            const auto [p, slope] = legendre(count, at);
            at -= p / slope;
        }
        const double slope = legendre(count, at).second;
        q.at(i) = at;
        q.weight(i) = 2 / ((1 - at * at) * slope * slope);
    }
    return q;
}

MatrixXd values(int degree, const VectorXd& at) {
    return values_at(nodes(degree), at);
}

MatrixXd slopes(int degree, const VectorXd& at) {
    return slopes_at(nodes(degree), at);
}

const MatrixXd& mass(int degree) {
    return line(degree).mass;
}

const MatrixXd& stiffness(int degree) {
    return line(degree).stiffness;
}

}  // namespace boxroom::lobatto
