#pragma once

#include "plan/course.hpp"

namespace firstcrop {

/// Puts the amounts of a run into the frame of its system, so that rules about the sheet can speak of them.
void set_plan_facts(JudgedSystem& judged, const Course& course, const Course::Plan& plan);

}  // namespace firstcrop
