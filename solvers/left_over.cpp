#include "solvers/left_over.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"

namespace boxroom {

std::vector<double> left_over(const ElementMatrices& matrices, const ReducedBasis& basis,
                              const ReducedFields& fields) {
    const Eigen::VectorXd& air = basis.weight();
    std::vector<double> left(fields.frequency.size());
    constexpr std::size_t together = 24;
    for_each_in_parallel((left.size() + together - 1) / together, 1, [&](std::size_t block) {
        const std::size_t first = block * together, count = std::min(together, left.size() - first);
        const auto columns = fields.field.middleCols(first, count);
        Eigen::MatrixXcd x(air.size(), columns.cols());
        x.real() = basis.fields(columns.real());
        x.imag() = basis.fields(columns.imag());
        Eigen::MatrixXcd rest = matrices.times(fields.scales.subspan(first, count), x);
        for (Eigen::Index n = 0; n < rest.cols(); ++n)
            left[first + n] = std::sqrt((fields.load.cast<std::complex<double>>() - rest.col(n))
                                            .cwiseAbs2()
                                            .cwiseQuotient(air)
                                            .sum() /
                                        x.col(n).cwiseAbs2().cwiseProduct(air).sum());
    });
    return left;
}

std::vector<double> worst_two(std::span<const double> frequency, std::span<const double> left) {
    constexpr double apart = 1.1;
    const auto worst = static_cast<std::size_t>(std::ranges::max_element(left) - left.begin());
    std::size_t second = worst;
    for (std::size_t n = 0; n < left.size(); ++n)
        if (std::max(frequency[n], frequency[worst]) >
                apart * std::min(frequency[n], frequency[worst]) &&
            (second == worst || left[n] > left[second]))
            second = n;
    return {std::min(frequency[worst], frequency[second]),
            std::max(frequency[worst], frequency[second])};
}

}  // namespace boxroom
