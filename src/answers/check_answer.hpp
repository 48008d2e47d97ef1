#pragma once
#include "answers/inquiry.hpp"

namespace boxroom {

/// The text and the document of `check`: what was understood of the file, and what is doubtful in
/// it (among the warnings).
Answer check_answer(Inquiry& inquiry);

}  // namespace boxroom
