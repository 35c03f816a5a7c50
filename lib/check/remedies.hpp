// Edits that several rules offer as the remedy of what they find.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "check/analysed_site.hpp"
#include "findings/edit.hpp"

namespace linewright::check {

/// Poles for every line that the device carries, and for its neutral.
Edit poles_with_neutral(const AnalysedSite& site, std::size_t device);

/// Poles for every line that the device carries, none for its neutral or PEN.
Edit poles_without_neutral(const AnalysedSite& site, std::size_t device);

/// Whether a state leaves the source's neutral joined to that of the supply while the supply runs.
bool on_the_supply(const AnalysedSite& site, std::size_t source);

/// A joint of neutral and earth of the source's own, once its neutral is cut off from the supply's:
/// a generator's fixed link, an inverter's contact. Empty where it has one or may have one.
std::vector<Edit> own_joint(const AnalysedSite& site, std::size_t source);

/// A local joint of neutral and earth that no longer is: the contact of an inverter stays open, a
/// generator's neutral floats, a link is taken out. Empty where the element has no such joint.
std::vector<Edit> without_joint(const AnalysedSite& site, std::size_t element);

/// A local joint that is open while the supply's neutral is joined: an inverter's contact closes in
/// island only; one that is of no use without the supply's neutral either goes altogether. Empty
/// where more than one remedy is right.
std::vector<Edit> joint_off_the_grid(const AnalysedSite& site, std::size_t element);

}  // namespace linewright::check
