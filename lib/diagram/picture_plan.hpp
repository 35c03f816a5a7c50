// The contracted site of a picture: only what moves stands in its lines, circuits are stubs.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "diagram/picture.hpp"
#include "diagram/plan.hpp"

namespace linewright::diagram {

/// What a hub of a picture stands for besides its kind in the plan.
struct PictureHub {
  enum class Hanging { nothing, stub, bond, earth_terminal };
  Hanging hanging = Hanging::nothing;  ///< what a pendant is
  std::size_t element = site::none;    ///< of a bond or the main earthing terminal
  std::size_t circuits = 0;            ///< behind a stub
  std::vector<Piece> covered;          ///< bars, joints, runs and circuits that became this hub
};

/// A plan for pictures. Chains keep all their pieces, though only switches of the set and PEN
/// splits are drawn. Circuits hang below their bar as one stub.
struct PicturePlan {
  site::Site site;               ///< what the layout is to see: no data beside the symbols
  Plan plan;                     ///< ranked
  std::vector<PictureHub> hubs;  ///< by hub of the plan
};

/// Whether a picture draws the element as a device in a line.
bool is_drawn(const site::Site& site, const PictureSet& set, std::size_t element);

/// "closed", "open", "at II".
std::string position_words(const std::string& position);

/// Contracts the site further than `contract`: circuits that nothing drawn parts become one stub,
/// bars of one assembly that nothing drawn parts become one.
PicturePlan picture_plan(const site::Site& site, const PictureSet& set);

}  // namespace linewright::diagram
