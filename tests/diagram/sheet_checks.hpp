// What must hold of every drawn sheet, as lists of faults in words: empty means that it holds.
#pragma once

#include <string>
#include <vector>

#include "diagram/metrics.hpp"
#include "diagram/sheet.hpp"
#include "site/site.hpp"

namespace linewright::tests {

using Faults = std::vector<std::string>;

/// Texts that overlap other texts, symbols or lines.
Faults covered_texts(const diagram::Sheet& sheet, const diagram::Metrics& metrics);

/// Wires inside the outline of a symbol, but for those that end at one of its ports.
Faults wires_through_symbols(const diagram::Sheet& sheet, const diagram::Metrics& metrics);

/// Symbols that overlap other symbols, but for strokes on wires.
Faults overlapping_symbols(const diagram::Sheet& sheet, const diagram::Metrics& metrics);

/// Frames of assemblies that overlap.
Faults overlapping_frames(const diagram::Sheet& sheet);

/// What lies outside the drawing frame, but for the zones round it.
Faults outside_frame(const diagram::Sheet& sheet, const diagram::Metrics& metrics);

/// Lettering below 2.5 mm outside the title block, or below 1.8 mm in it.
Faults small_texts(const diagram::Sheet& sheet);

/// Wires that stand neither level nor upright.
Faults oblique_wires(const diagram::Sheet& sheet);

/// Runs to load groups that are not one upright line.
Faults bent_feeders(const diagram::Document& document, const site::Site& site);

/// Elements and runs of the site that are not drawn just once in the document.
Faults not_drawn_once(const diagram::Document& document, const site::Site& site);

/// Links without a group that they lead to.
Faults dead_links(const diagram::Document& document);

/// Circuits that hang from one bar and do not stand in the order of the file.
Faults out_of_order(const diagram::Document& document, const site::Site& site);

/// All of the above for all sheets, each fault with the name of its sheet.
Faults all_faults(const diagram::Document& document, const site::Site& site,
                  const diagram::Metrics& metrics);

}  // namespace linewright::tests
