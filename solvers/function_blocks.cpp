#include "solvers/function_blocks.hpp"

#include <stdexcept>
#include <utility>

namespace boxroom {

void FunctionBlocks::append(Eigen::MatrixXd functions) {
    size_ += functions.rows();
    block_.push_back(std::make_shared<const Eigen::MatrixXd>(std::move(functions)));
}

FunctionBlocks FunctionBlocks::after(Eigen::Index known) const {
    FunctionBlocks rest;
    Eigen::Index first = 0;
    for (const Block& block : block_) {
        if (first >= known) rest.block_.push_back(block);
        first += block->rows();
    }
    for (const Block& block : rest.block_) rest.size_ += block->rows();
    if (rest.size_ != size_ - known) throw std::out_of_range("functions: no block begins there");
    return rest;
}

Eigen::MatrixXd FunctionBlocks::at(std::span<const int> unknown) const {
    Eigen::MatrixXd own(size_, static_cast<Eigen::Index>(unknown.size()));
    Eigen::Index first = 0;
    for (const Block& block : block_) {
        for (std::size_t i = 0; i < unknown.size(); ++i)
            own.col(static_cast<Eigen::Index>(i)).segment(first, block->rows()) =
                block->col(unknown[i]);
        first += block->rows();
    }
    return own;
}

Eigen::MatrixXd FunctionBlocks::times(const Eigen::MatrixXd& x) const {
    Eigen::MatrixXd sum(size_, x.cols());
    Eigen::Index first = 0;
    for (const Block& block : block_) {
        sum.middleRows(first, block->rows()).noalias() = *block * x;
        first += block->rows();
    }
    return sum;
}

}  // namespace boxroom
