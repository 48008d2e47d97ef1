#pragma once
#include <vector>

#include "answers/inquiry.hpp"
#include "woofer/closed_box.hpp"

namespace boxroom {

/// The text and the document of `box`: one box, or several side by side. `boxes` must not be empty.
Answer box_answer(const Driver& driver, const Air& air, const std::vector<ClosedBox>& boxes,
                  Units units);

}  // namespace boxroom
