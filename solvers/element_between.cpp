#include <algorithm>
#include <span>

#include "base/parallel.hpp"
#include "solvers/element_matrices.hpp"

namespace boxroom {

using Eigen::Index;
using Eigen::MatrixXd;

namespace {

/// Unknowns that a part of the operator is about, such as those on a surface, and where each is
/// among them.
class Touched {
  public:
    explicit Touched(int unknowns) : place_(static_cast<std::size_t>(unknowns), -1) {}
    void add(const std::vector<int>& unknown) {
        for (const int u : unknown)
            if (place_[u] < 0) {
                place_[u] = static_cast<int>(unknown_.size());
                unknown_.push_back(u);
            }
    }
    const std::vector<int>& unknown() const { return unknown_; }
    Index place(int unknown) const { return place_[unknown]; }

  private:
    std::vector<int> unknown_, place_;
};

/// Some functions of one block.
struct Rows {
    const MatrixXd* block;
    Index first, count;  ///< in the block
    Index to;            ///< among all
    MatrixXd at(const std::vector<int>& unknown) const {
        return gathered(block->middleRows(first, count), unknown);
    }
};

std::vector<Rows> some_rows(const FunctionBlocks& functions) {
    constexpr Index together = 32;
    std::vector<Rows> all;
    Index to = 0;
    for (const auto& block : functions.blocks())
        for (Index first = 0; first < block->rows(); first += together) {
            all.push_back({block.get(), first, std::min(together, block->rows() - first), to});
            to += all.back().count;
        }
    return all;
}

}  // namespace

struct ElementMatrices::Weighed {
    MatrixXd volume;  ///< rows by the room's stiffness, then the same by the mass
    struct Part {
        Touched touched;
        MatrixXd rows;
    };
    std::vector<Part> other;  ///< stiffness elsewhere, then each surface
};

ElementMatrices::Weighed ElementMatrices::weighed(const FunctionBlocks& functions) const {
    const Index count = functions.size();
    Weighed all{MatrixXd::Zero(2 * count, mesh_.unknowns),
                {parts() - 2, {Touched(mesh_.unknowns), {}}}};
    const auto surface = [&all](const ElementMesh::Face& face) -> Weighed::Part& {
        return all.other[1 + static_cast<std::size_t>(face.surface)];
    };
    for (std::size_t n = 0; n < mesh_.element.size(); ++n) {
        const auto& e = mesh_.element[n];
        if (e.region != ElementMesh::room_region) all.other[0].touched.add(e.unknown);
        for (const int f : faces_of_[n])
            surface(mesh_.face[f]).touched.add(mesh_.on_side(e, mesh_.face[f].side));
    }
    for (auto& part : all.other)
        part.rows = MatrixXd::Zero(count, static_cast<Index>(part.touched.unknown().size()));
    const std::vector<Rows> some = some_rows(functions);
    for_each_in_parallel(some.size(), 1, [&](std::size_t block) {
        const Rows& rows = some[block];
        const auto add = [&rows](MatrixXd& to, Index first, Index column, const auto& product) {
            to.col(column).segment(first + rows.to, rows.count) += product;
        };
        for (std::size_t n = 0; n < mesh_.element.size(); ++n) {
            const auto& e = mesh_.element[n];
            const OverElement made = over_element(e, rows.at(e.unknown));
            for (std::size_t i = 0; i < e.unknown.size(); ++i) {
                const int u = e.unknown[i];
                if (e.region == ElementMesh::room_region)
                    add(all.volume, 0, u, made.stiffness.col(i));
                else
                    add(all.other[0].rows, 0, all.other[0].touched.place(u), made.stiffness.col(i));
                add(all.volume, count, u, made.mass.col(i));
            }
            for (const int f : faces_of_[n]) {
                const std::vector<int> side = mesh_.on_side(e, mesh_.face[f].side);
                const MatrixXd product = rows.at(side) * side_matrix(mesh_.face[f]);
                auto& part = surface(mesh_.face[f]);
                for (std::size_t i = 0; i < side.size(); ++i)
                    add(part.rows, 0, part.touched.place(side[i]), product.col(i));
            }
        }
    });
    return all;
}

std::vector<MatrixXd> ElementMatrices::between(const FunctionBlocks& y,
                                               const FunctionBlocks& x) const {
    const Weighed of_y = weighed(y);
    // Sums over some unknowns each, which are added up in their order whatever the threads.
    struct Task {
        std::size_t part;
        Index first, count;
        MatrixXd sum;
    };
    constexpr std::size_t volume = 0;
    std::vector<Task> task;
    const auto divide = [&task](std::size_t part, Index unknowns) {
        constexpr Index together = 1024;
        for (Index first = 0; first < unknowns; first += together)
            task.push_back({part, first, std::min(together, unknowns - first), {}});
    };
    divide(volume, mesh_.unknowns);
    for (std::size_t p = 0; p < of_y.other.size(); ++p) divide(p + 1, of_y.other[p].rows.cols());
    for_each_in_parallel(task.size(), 1, [&](std::size_t n) {
        Task& t = task[n];
        if (t.part == volume) {
            const auto weighed = of_y.volume.middleCols(t.first, t.count);
            t.sum.resize(weighed.rows(), x.size());
            Index column = 0;
            for (const auto& block : x.blocks()) {
                t.sum.middleCols(column, block->rows()).noalias() =
                    weighed * block->middleCols(t.first, t.count).transpose();
                column += block->rows();
            }
        } else {
            const auto& part = of_y.other[t.part - 1];
            const std::span<const int> unknown(part.touched.unknown());
            t.sum.noalias() = part.rows.middleCols(t.first, t.count) *
                              x.at(unknown.subspan(static_cast<std::size_t>(t.first),
                                                   static_cast<std::size_t>(t.count)))
                                  .transpose();
        }
    });
    std::vector<MatrixXd> sum(parts());
    const auto add = [](MatrixXd& to, const auto& some) {
        if (to.size() == 0)
            to = some;
        else
            to += some;
    };
    for (const Task& t : task)
        if (t.part == volume) {
            add(sum[0], t.sum.topRows(y.size()));
            add(sum[2], t.sum.bottomRows(y.size()));
        } else {
            add(sum[t.part == 1 ? 1 : t.part + 1], t.sum);
        }
    return sum;
}

}  // namespace boxroom
