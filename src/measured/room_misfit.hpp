#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "measured/discrepancy.hpp"
#include "measured/fit_blocked.hpp"
#include "measured/fit_elements.hpp"
#include "measured/predicted.hpp"
#include "measured/room_fit.hpp"

namespace boxroom {

/// Residuals of measured levels and priors for a set of parameters, and their slopes.
class RoomMisfit {
  public:
    RoomMisfit(const FitQuestion& question, const FitParameters& parameters);

    /// Recordings that count; all at first.
    void use(std::vector<char> recordings) { used_ = std::move(recordings); }
    /// What the weights take the model to leave out.
    void set_discrepancy(const Discrepancy& discrepancy) { discrepancy_ = discrepancy; }
    const Discrepancy& discrepancy() const { return discrepancy_; }
    /// What it leaves out at x, of whose numbers the data have told so many.
    Discrepancy discrepancy_at(const Eigen::VectorXd& x, double told) const;

    /// Levels (R)(F) [dB] of the model at x, smoothed over 1/12 octave, gains not included.
    std::vector<std::vector<double>> levels(const Eigen::VectorXd& x) const;
    /// Those of other microphones with the same room: each recording one place and sub.
    std::vector<std::vector<double>> levels(const FitState& state) const;
    /// What they are levels of, not smoothed.
    Pressures pressures(const Eigen::VectorXd& x) const;
    Eigen::VectorXd residuals(const Eigen::VectorXd& x) const;
    /// Those of levels alone, without the priors, of rooms with furniture that are nothing like
    /// each other; roughly.
    std::vector<Eigen::VectorXd> residuals_apart(std::span<const FitState> states) const;
    /// ln of the data's probability, all parameters free (Laplace's approximation: MacKay,
    /// Information Theory, Inference, and Learning Algorithms, 2003, ch. 28), but for a constant.
    /// `information` is J'J with the priors in it.
    double evidence(const Eigen::VectorXd& x, const Eigen::MatrixXd& information) const;
    Eigen::MatrixXd slopes(const Eigen::VectorXd& x) const;
    /// d level/dx (R)(F, P) [dB], smoothed, gains not included, for these recordings in place of
    /// the heard ones; their own places do not move.
    std::vector<Eigen::MatrixXd> level_slopes(const Eigen::VectorXd& x,
                                              const std::vector<Recording>& recordings) const;
    /// The gain that the recording is taken to have had [dB]: measured less predicted.
    double gain(std::size_t recording, const std::vector<double>& predicted) const;
    /// Where the recording lies in time against these pressures (F), over the target band.
    std::optional<RecordingTiming> timing(std::size_t recording,
                                          const std::vector<std::complex<double>>& predicted) const;
    /// Over the target band alone, gain taken out.
    double band_misfit(std::size_t recording, const std::vector<double>& predicted) const;
    /// RMS of it over the recordings of a seat, or place (recording_place()).
    double seat_misfit(const std::string& place,
                       const std::vector<std::vector<double>>& predicted) const;

  private:
    using Levels = std::vector<std::vector<double>>;
    /// Of many states at once, all like the first: rooms by elements are solved side by side.
    std::vector<Levels> levels(std::span<const FitState> states) const;
    /// In the room and from the box of `state`; by modes where there is no `z`.
    Pressures pressures(const FitState& state, const TransferImpedance<double>* z) const;
    std::vector<TransferImpedance<double>> solved(std::span<const FitState> states) const;
    std::vector<Levels> heard(std::span<const FitState> states,
                              const std::vector<TransferImpedance<double>>& z) const;
    /// What noise and discrepancy leave of a point's certainty: 1/variance, 0 where it is not
    /// trusted.
    double certainty(std::size_t recording, std::size_t f) const;
    double weight(std::size_t recording, std::size_t f) const;
    Eigen::VectorXd data_residuals(const std::vector<std::vector<double>>& levels) const;

    const FitQuestion& question_;
    const FitParameters& parameters_;
    std::vector<double> frequency_, band_weight_;
    std::vector<HeardCurve> smooth_;
    std::shared_ptr<const FitElements> elements_;        ///< of a room that is no rectangle
    mutable std::shared_ptr<const FitBlocked> blocked_;  ///< of the last room with furniture
    /// Smoothed, at the last x that was asked for, and a little beside it: searches ask again for
    /// what they have just had.
    mutable std::optional<std::pair<Eigen::VectorXd, Levels>> last_;
    mutable std::optional<std::pair<Eigen::VectorXd, std::vector<Levels>>> beside_;
    std::vector<char> used_;
    Discrepancy discrepancy_;
};

}  // namespace boxroom
