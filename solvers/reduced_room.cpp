#include "solvers/reduced_room.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numbers>
#include <utility>

#include "base/parallel.hpp"
#include "solvers/learnt_basis.hpp"
#include "solvers/point_value.hpp"
#include "solvers/raw_numbers.hpp"
#include "solvers/reduced_modes.hpp"

namespace boxroom {

using Eigen::MatrixXcd;
using Eigen::MatrixXd;

struct ReducedRoom::Parts : LearntBasis {
    using LearntBasis::LearntBasis;
    /// Fields of sources at `solved_at`, by frequency: whoever asks for more places asks for the
    /// same seats again.
    std::map<double, MatrixXcd> field;
    std::vector<Point> solved_at;

    void solve(std::span<const double> frequency, std::span<const Point> places);
};

/// Makes `field` hold the fields of sources at these places, at all these frequencies.
void ReducedRoom::Parts::solve(std::span<const double> frequency, std::span<const Point> places) {
    constexpr std::size_t most = 4000;
    if (!std::ranges::equal(solved_at, places) || field.size() > most) field.clear();
    solved_at.assign(places.begin(), places.end());
    std::vector<double> fresh;
    for (const double f : frequency)
        if (!field.contains(f)) fresh.push_back(f);
    const MatrixXd load = seen(places);
    std::vector<MatrixXcd> found = fields(fresh, load);
    for (std::size_t n = 0; n < fresh.size(); ++n) field[fresh[n]] = std::move(found[n]);
}

ReducedRoom::ReducedRoom(const Room& room, const Air& air, double highest_frequency)
    : parts_(std::make_unique<Parts>(room, air, highest_frequency)) {}
ReducedRoom::~ReducedRoom() = default;
ReducedRoom::ReducedRoom(const ReducedRoom& other)
    : parts_(std::make_unique<Parts>(*other.parts_)) {}
ReducedRoom& ReducedRoom::operator=(const ReducedRoom& other) {
    parts_ = std::make_unique<Parts>(*other.parts_);
    return *this;
}
ReducedRoom::ReducedRoom(ReducedRoom&&) noexcept = default;
ReducedRoom& ReducedRoom::operator=(ReducedRoom&&) noexcept = default;

ReducedReport ReducedRoom::report() const {
    return parts_->report;
}

const Room& ReducedRoom::room() const {
    return parts_->room;
}

const Air& ReducedRoom::air() const {
    return parts_->air;
}

void ReducedRoom::learn(std::span<const Point> places,
                        const std::function<void(double)>& progress) {
    if (parts_->learn(places, progress)) parts_->field.clear();
}

void ReducedRoom::learn_as(std::span<const Room> others, std::span<const Point> places) {
    parts_->learn_as(others, places);
    parts_->field.clear();
}

void ReducedRoom::be(const Room& other) {
    parts_->be(other);
    parts_->field.clear();
}

const ReducedModel& ReducedRoom::model() const {
    return parts_->model;
}

std::array<MatrixXd, 3> ReducedRoom::stiffness_along() const {
    const auto [x, y] = parts_->solver->matrices().stiffness_over_floor(parts_->basis.functions());
    return {x, y, parts_->model.stiffness_room - x - y};
}

MatrixXd ReducedRoom::seen(std::span<const Point> places) const {
    return parts_->seen(places);
}

std::vector<MatrixXcd> ReducedRoom::fields(std::span<const double> frequency,
                                           const MatrixXd& seen) const {
    return parts_->fields(frequency, seen);
}

std::span<const Point> ReducedRoom::learnt_for(std::span<const Point> sources,
                                               std::span<const Point> receivers) {
    // By reciprocity either side may sound.
    return receivers.size() > std::max<std::size_t>(sources.size(), 12) ? sources : receivers;
}

template <typename Real>
TransferImpedance<Real> ReducedRoom::transfer(std::span<const double> frequency,
                                              std::span<const Point> sources,
                                              std::span<const Point> receivers) {
    TransferImpedance<Real> z(frequency.size(), receivers.size(), sources.size());
    if (z.value.empty()) return z;
    const std::span<const Point> few = learnt_for(sources, receivers);
    const bool forth = few.data() == sources.data() && few.size() == sources.size();
    learn(few);
    parts_->solve(frequency, few);
    const std::span<const Point> many = forth ? receivers : sources;
    const MatrixXd seen = parts_->seen(many);
    const auto columns = static_cast<Eigen::Index>(few.size());
    MatrixXd fields(seen.rows(), 2 * columns * static_cast<Eigen::Index>(frequency.size()));
    for (std::size_t n = 0; n < frequency.size(); ++n) {
        const MatrixXcd& field = parts_->field.at(frequency[n]);
        const Eigen::Index at = 2 * columns * static_cast<Eigen::Index>(n);
        fields.middleCols(at, columns) = field.real();
        fields.middleCols(at + columns, columns) = field.imag();
    }
    // All frequencies of some places at a time: what they are made of is read as seldom as may be.
    constexpr std::size_t together = 256;
    for_each_in_parallel((many.size() + together - 1) / together, 1, [&](std::size_t block) {
        const std::size_t first = block * together, count = std::min(together, many.size() - first);
        const MatrixXd heard =
            seen.middleCols(static_cast<Eigen::Index>(first), static_cast<Eigen::Index>(count))
                .transpose() *
            fields;
        for (std::size_t n = 0; n < frequency.size(); ++n) {
            const std::complex<double> load{
                0, 2 * std::numbers::pi * frequency[n] * parts_->air.density};
            for (std::size_t k = 0; k < few.size(); ++k) {
                const Eigen::Index at =
                    2 * columns * static_cast<Eigen::Index>(n) + static_cast<Eigen::Index>(k);
                for (std::size_t i = 0; i < count; ++i) {
                    const auto row = static_cast<Eigen::Index>(i);
                    z.at(n, forth ? first + i : k, forth ? k : first + i) =
                        static_cast<std::complex<Real>>(
                            load * std::complex<double>(heard(row, at), heard(row, at + columns)));
                }
            }
        }
    });
    return z;
}

std::vector<FreeOscillation> ReducedRoom::free_oscillations(double highest) const {
    const Parts& p = *parts_;
    if (p.known.empty()) return {};
    const auto scales_at = [&p](std::complex<double> omega) {
        return operator_scales_at(p.room, p.air, omega);
    };
    const double top = 2 * std::numbers::pi * std::min(highest, p.highest);
    const auto found = free_fields(p.own, scales_at, p.air.speed_of_sound, top);
    // Real and imaginary part of each, those of one unknown side by side.
    const auto count = static_cast<Eigen::Index>(found.size());
    MatrixXd parts(p.model.size(), 2 * count);
    for (Eigen::Index n = 0; n < count; ++n)
        parts.middleCols(2 * n, 2) << found[n].shape.real(), found[n].shape.imag();
    const auto field = std::make_shared<MatrixXd>(2 * count, p.solver->unknowns());
    constexpr Eigen::Index together = 512;
    for_each_in_parallel((field->cols() + together - 1) / together, 1, [&](std::size_t n) {
        const Eigen::Index first = static_cast<Eigen::Index>(n) * together;
        auto here = field->middleCols(first, std::min(together, field->cols() - first));
        here.setZero();
        Eigen::Index row = 0;
        for (const auto& some : p.basis.functions().blocks()) {
            here.noalias() += parts.middleRows(row, some->rows()).transpose() *
                              some->middleCols(first, here.cols());
            row += some->rows();
        }
    });
    std::vector<FreeOscillation> all;
    for (Eigen::Index n = 0; n < count; ++n) {
        const FreeField& free = found[n];
        const double swing = free.omega.real(), decay = free.omega.imag();
        const Mode mode{
            {}, swing / (2 * std::numbers::pi), 3 * std::log(10.0) / decay, swing / (2 * decay)};
        const std::complex<double> j{0, 1};
        all.push_back({mode,
                       [solver = p.solver, field, n](const Point& at) {
                           const PointValue value = point_value(solver->matrices().mesh(), at);
                           std::complex<double> sum = 0;
                           for (std::size_t i = 0; i < value.unknown.size(); ++i) {
                               const auto here = field->col(value.unknown[i]).segment<2>(2 * n);
                               sum += value.share[i] * std::complex<double>(here(0), here(1));
                           }
                           return sum;
                       },
                       j * swing * p.air.density / (free.slope * (-j * decay)),
                       (free.shape.adjoint() * (p.own.mass * free.shape)).value().real()});
    }
    return all;
}

namespace {

/// The numbers that kept bytes begin with.
struct KeptHead {
    double unknowns, functions, known_functions, change_db, places, walls, highest;
};

/// Whether the operator between the first functions is that of a model.
bool begins_with(const MatrixXd& m, const MatrixXd& first) {
    return first.size() == 0 ||
           (m.rows() >= first.rows() && m.topLeftCorner(first.rows(), first.cols()) == first);
}

}  // namespace

Pieces ReducedRoom::kept(int known) const {
    struct Held {
        KeptHead head;
        std::vector<Point> known;
        FunctionBlocks fresh;
        std::vector<double> count;  // of each block's functions
        RawWriter model;
    };
    const Parts& p = *parts_;
    const auto held = std::make_shared<Held>();
    held->head = {static_cast<double>(p.report.unknowns),
                  static_cast<double>(p.model.size()),
                  static_cast<double>(known),
                  p.report.change_db,
                  static_cast<double>(p.known.size()),
                  static_cast<double>(p.model.wall.size()),
                  p.highest};
    held->known = p.known;
    held->fresh = p.basis.functions().after(known);
    for (const auto& some : held->fresh.blocks())
        held->count.push_back(static_cast<double>(some->rows()));
    held->model.bytes.reserve((3 + p.model.wall.size()) * sizeof(double) *
                              (1 + static_cast<std::size_t>(p.model.mass.size())));
    for (const MatrixXd* m : {&p.model.stiffness_room, &p.model.stiffness_elsewhere, &p.model.mass})
        held->model.put(*m);
    for (const MatrixXd& m : p.model.wall) held->model.put(m);
    Pieces pieces;
    pieces.piece = {raw_bytes(&held->head, 1), raw_bytes(held->known.data(), held->known.size())};
    for (std::size_t n = 0; n < held->count.size(); ++n) {
        const MatrixXd& some = *held->fresh.blocks()[n];
        pieces.piece.push_back(raw_bytes(&held->count[n], 1));
        pieces.piece.push_back(raw_bytes(some.data(), static_cast<std::size_t>(some.size())));
    }
    pieces.piece.emplace_back(held->model.bytes);
    pieces.holder = held;
    return pieces;
}

bool ReducedRoom::take(std::string_view bytes) {
    Parts& p = *parts_;
    const auto own = static_cast<double>(p.basis.size());
    RawReader from{bytes};
    KeptHead head{};
    from.get(&head, 1);
    const double walls = static_cast<double>(surface_walls(p.room, p.air).size());
    constexpr double most = 1e5;
    if (!from.whole || head.unknowns != p.solver->unknowns() ||
        !(head.functions > 0 && head.functions < head.unknowns) || head.known_functions != own ||
        !(head.functions >= head.known_functions) || !(head.places > 0 && head.places < most) ||
        head.walls != walls || head.highest != p.highest)
        return false;
    std::vector<Point> known(static_cast<std::size_t>(head.places));
    from.get(known.data(), known.size());
    const auto size = static_cast<Eigen::Index>(head.functions);
    std::vector<MatrixXd> fresh;
    for (double left = head.functions - own; from.whole && left > 0;) {
        double count = 0;
        from.get(&count, 1);
        const auto held = from.bytes.size() / sizeof(double) / p.solver->unknowns();
        if (!(count > 0 && count <= left && count <= static_cast<double>(held))) return false;
        fresh.emplace_back(static_cast<Eigen::Index>(count), p.solver->unknowns());
        from.get(fresh.back().data(), static_cast<std::size_t>(fresh.back().size()));
        left -= count;
    }
    ReducedModel model;
    for (MatrixXd* m : {&model.stiffness_room, &model.stiffness_elsewhere, &model.mass})
        *m = from.matrix(size);
    for (double n = 0; n < walls; ++n) model.wall.push_back(from.matrix(size));
    if (!from.whole || !from.bytes.empty() || model.mass.size() == 0 ||
        !begins_with(model.stiffness_room, p.model.stiffness_room) ||
        !begins_with(model.mass, p.model.mass))
        return false;
    p.known = std::move(known);
    p.model = std::move(model);
    p.own = with_equal_walls_as_one(p.model, surface_walls(p.room, p.air));
    p.field.clear();
    for (MatrixXd& some : fresh) p.basis.append(std::move(some));
    p.report = {p.solver->unknowns(), static_cast<int>(size), static_cast<int>(head.places),
                head.change_db};
    return true;
}

template TransferImpedance<float> ReducedRoom::transfer(std::span<const double>,
                                                        std::span<const Point>,
                                                        std::span<const Point>);
template TransferImpedance<double> ReducedRoom::transfer(std::span<const double>,
                                                         std::span<const Point>,
                                                         std::span<const Point>);

}  // namespace boxroom
