// Which conductors bond what to the main earthing terminal, as a tree without places.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "site/site.hpp"

namespace linewright::diagram {

/// What stands at the end of an earthing or bonding conductor.
enum class EarthEnd {
  terminal,   ///< the main earthing terminal itself
  board,      ///< a bar for protective conductors in an assembly
  equipment,  ///< a source or other equipment, named in a box
  electrode,
  metalwork,  ///< a pipe or frame that is bonded
  joint,      ///< of neutral and earth, by a link or contact
  onwards     ///< a board that another part of the drawing shows
};

/// A conductor with what is at its end, and what is bonded from there.
struct EarthNode {
  EarthEnd end = EarthEnd::equipment;
  std::string designation;             ///< of what is at the end; empty for metalwork
  std::vector<std::string> conductor;  ///< "-W2", "PE 10 mm² Cu"
  std::vector<std::string> words;      ///< what is said of the end
  std::string symbol;                  ///< electrodes and joints
  std::vector<EarthNode> children;
};

/// Everything that the file says is joined to the main earthing terminal by a protective, earthing
/// or bonding conductor, each once, in the order of the file; circuits have theirs in their cables.
/// A root without children if there is no such terminal.
EarthNode earthing_tree(const site::Site& site);

/// What a drawing of the earthing ought to show and the file does not say.
std::vector<std::string> unsaid_of_earthing(const site::Site& site);

}  // namespace linewright::diagram
