#pragma once
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "placement/room_surfaces.hpp"
#include "placement/scenario.hpp"
#include "solvers/transfer_impedance.hpp"

namespace boxroom {

/// What a live room is heard through, whatever its shape: the same Z as `listen` has.
class RoomFields {
  public:
    virtual ~RoomFields() = default;

    /// Z [Pa s/m3] at the scenario's frequencies. Throws Error for places outside the room.
    virtual TransferImpedance<double> transfer(std::span<const Point> sources,
                                               std::span<const Point> seats) = 0;
    /// What one of the room's surfaces is made of.
    virtual void set_wall(const RoomSurface& surface, const Wall& wall) = 0;
    /// How whole floors are solved in this room.
    virtual SolverSettings solver() const { return {}; }

    /// Whether a transfer to these seats, in the room as it is now, is all that `listen` says; else
    /// it is a draft.
    virtual bool learnt(std::span<const Point>) const { return true; }
    /// Solves the room for these seats; told the share that is done, 0 first.
    virtual void learn(std::span<const Point>, const std::function<void(double)>&) {}
    /// What was learnt last, as bytes for another engine of this program; empty where nothing is.
    virtual std::string_view kept() const { return ""; }
    /// Takes what another has kept for these seats; false, and nothing has changed, if it is of
    /// another room, of other seats or no such bytes.
    virtual bool take(std::span<const Point>, const std::string&) { return false; }
};

/// A closed rectangle by its modes, prepared; any other room by elements and a reduced basis, which
/// learns the seats. A sub may then stand anywhere; a seat that it has not learnt may be a decibel
/// off, and surfaces that it has not learnt several. What is asked before anything was learnt
/// learns first.
std::unique_ptr<RoomFields> fields_of(const Scenario& scenario);

/// A solved room as RoomFields::take() takes it (see RoomStore).
std::string kept_room(const std::string& key, const std::string& bytes);

}  // namespace boxroom
