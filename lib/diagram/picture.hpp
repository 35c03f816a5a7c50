// Small pictures of the site, one for each way it may stand: switches in their places, what is
// alive from which source, the bond in force, the way of one earth fault. The layout knows no
// states and no volts: all of that is handed in.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/plan.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::diagram {

/// What one terminal is alive from.
struct Feed {
  std::vector<std::size_t> sources;  ///< elements that form its voltage; empty: dead
  bool undecided = false;            ///< the file leaves open whether it is alive
};

/// A switch by the element it belongs to and the part of it: "", "transfer" or "bond".
using SwitchId = std::pair<std::size_t, std::string>;

/// What a picture is of.
enum class PictureOf { state, hazard };

/// One way the site may stand.
struct Picture {
  PictureOf of = PictureOf::state;
  std::string name;                           ///< "island"; part of the ids of what is drawn
  std::string heading;                        ///< "island"
  std::vector<std::string> lines;             ///< below it: what runs, where the bond is
  std::vector<std::vector<Feed>> feeds;       ///< by element and terminal
  std::map<SwitchId, std::string> positions;  ///< "open", "closed", "I", "0", "?"
  std::vector<std::size_t> running;           ///< sources
  std::vector<std::size_t> bonds;             ///< elements whose joint of neutral and earth works
  std::vector<Piece> fault_out;               ///< from the source to the fault, in order
  std::vector<Piece> fault_home;              ///< from the fault back to the source
  std::vector<Piece> emphasised;              ///< a way that a hazard takes, in order
  std::vector<SwitchId> moved;                ///< what has to be moved for it
};

/// All pictures of a site with what they have in common.
struct PictureSet {
  std::vector<SwitchId> switches;    ///< those that are drawn; all others stand closed
  std::vector<std::size_t> sources;  ///< in the order of their marks: A, B, C …
  std::size_t faulty = site::none;   ///< the circuit whose fault is traced
  std::string faulty_name;           ///< "-F51 Lights upstairs"
  std::vector<Picture> pictures;     ///< of the named states, then of hazards
};

/// Sheets of pictures, and what the user must be told of them.
struct PictureSheets {
  std::vector<Sheet> sheets;
  std::vector<std::string> notices;
};

/// The sheets with all pictures, states apart from hazards, as large as they fit, the same geometry
/// in each of a kind; still without title blocks. None if there is no picture; one that says so in
/// words, and a notice, if the site fits no sheet.
PictureSheets picture_sheets(const site::Site& site, const Metrics& metrics, const PictureSet& set);

/// Gives the sheets of pictures their title blocks: the first is sheet `first`, the last one the
/// last of the document.
void number_sheets(const site::Site& site, const Metrics& metrics, const std::string& rules,
                   int first, std::vector<Sheet>& sheets);

}  // namespace linewright::diagram
