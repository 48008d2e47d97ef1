#pragma once
#include <Eigen/Core>
#include <memory>
#include <span>
#include <vector>

namespace boxroom {

/// The columns of `across`, one an unknown, that are an element's or a side's own.
template <typename Across>
Eigen::MatrixXd gathered(const Across& across, std::span<const int> unknown) {
    Eigen::MatrixXd own(across.rows(), static_cast<Eigen::Index>(unknown.size()));
    for (std::size_t i = 0; i < unknown.size(); ++i)
        own.col(static_cast<Eigen::Index>(i)) = across.col(unknown[i]);
    return own;
}

/// Functions over the unknowns of elements, (functions, unknowns): a few matrices one below
/// another, as they were learnt. What one unknown has of them lies side by side, for elements to
/// gather. Copies share the matrices, which have tens of megabytes.
class FunctionBlocks {
  public:
    using Block = std::shared_ptr<const Eigen::MatrixXd>;

    FunctionBlocks() = default;
    explicit FunctionBlocks(Eigen::MatrixXd functions) { append(std::move(functions)); }
    /// After those there are.
    void append(Eigen::MatrixXd functions);

    Eigen::Index size() const { return size_; }
    const std::vector<Block>& blocks() const { return block_; }
    /// Those of the blocks after the first `known` functions. Throws std::out_of_range where no
    /// block begins there.
    FunctionBlocks after(Eigen::Index known) const;
    /// What these unknowns have of them, (functions, unknown.size()).
    Eigen::MatrixXd at(std::span<const int> unknown) const;
    /// Sums over all unknowns, (functions, columns of x).
    Eigen::MatrixXd times(const Eigen::MatrixXd& x) const;

  private:
    std::vector<Block> block_;
    Eigen::Index size_ = 0;
};

}  // namespace boxroom
