#pragma once
#include <optional>

#include "app/session.hpp"

namespace boxroom {

/// The box that a plan of this very text has decided on, where the session's results folder holds
/// one, whole and as it was written; else empty.
std::optional<Scenario> planned_here(const Session& session);

}  // namespace boxroom
