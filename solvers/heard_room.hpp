#pragma once
#include <complex>
#include <memory>
#include <span>
#include <vector>

#include "solvers/reduced_room.hpp"

namespace boxroom {

/// A reduced room that is heard over and over while something in it moves: the fields of places are
/// kept, by which anything else is heard at once (reciprocity: whichever side of a pair stays where
/// it is). Places that the room has not learnt may be half a decibel off. Any thread may.
class HeardRoom {
  public:
    /// `frequency` [Hz] of transfer().
    HeardRoom(ReducedRoom learnt, std::vector<double> frequency);
    ~HeardRoom();
    HeardRoom(HeardRoom&&) noexcept;

    /// With the surfaces of another room of its shape, by what was learnt of its own (see
    /// ReducedRoom::be). Further ones on the way from the last to this one, such as a surface of
    /// any material, are soon heard (SurfaceLine). Not while others ask.
    void be(const Room& other);
    /// Z [Pa s/m3] between them. Where neither side's fields are kept, those of both are worked out
    /// and kept.
    TransferImpedance<double> transfer(const std::vector<Point>& sources,
                                       const std::vector<Point>& receivers) const;
    /// Z from one source to many points, which are best the same again and again; 0 where there is
    /// no air.
    std::vector<std::complex<double>> field(const Point& source, const std::vector<Point>& points,
                                            double frequency) const;

  private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace boxroom
