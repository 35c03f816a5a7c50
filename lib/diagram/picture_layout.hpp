// Where everything of a picture stands; the same for all pictures of a site.
#pragma once

#include <optional>
#include <vector>

#include "diagram/draw.hpp"
#include "diagram/picture_plan.hpp"

namespace linewright::diagram {

/// How the words beside a switch stand: in one line at its right, or the position below the
/// designation where a neighbour is near, at its left where that neighbour is too near.
enum class Words { in_line, in_two, left };

/// A picture laid out with the full-size symbols of the overview and then made smaller by `scale`;
/// its lettering is not, so it is that much larger in the layout.
struct PictureLayout {
  PicturePlan what;
  Metrics metrics;
  Measures measures;
  Placed placed;
  double scale = 0.5;
  std::vector<Words> words;  ///< by chain, beside its switches

  Drawing drawing() const { return {what.site, what.plan, measures, placed}; }
};

/// The largest scale from `most` down to `least` at which the plan fits `width` by `height` mm.
std::optional<PictureLayout> lay_out_picture(const PicturePlan& plan, const PictureSet& set,
                                             const Metrics& metrics, double width, double height,
                                             double most, double least);

inline constexpr double source_label = 4.6;   ///< mm of the words above a source's symbol
inline constexpr double bond_room = 4.5;      ///< mm of one joint with earth beside a symbol
inline constexpr double device_words = 1.9;   ///< mm from a switch's axis to its words
inline constexpr double stub_height = 5.4;    ///< mm below a board for the words on its circuits
inline constexpr double stub_length = 3.4;    ///< mm from a bar to the tip of its stub
inline constexpr double line_room = 1.5;      ///< mm beside a line for the way of a fault
inline constexpr double words_gap = 0.9;      ///< mm between designation and position
inline constexpr double tag_diameter = 3.6;   ///< mm of the ring round a source's mark
inline constexpr double bar_pitch = 4.4;      ///< mm from bar to bar, so that marks have room
inline constexpr double earth_height = 8.5;   ///< mm of a joint with earth below a bar
inline constexpr double inverter_half = 4.0;  ///< mm, least half of an inverter's box

inline constexpr double least_radius = 2.4;  ///< mm of a generator's circle

/// The joints of neutral and earth at a source: its own, then those beside it.
std::vector<SwitchId> bonds_at(const site::Site& site, const Hub& hub);

/// Whether an element is a source with a joint of its own.
bool has_own_bond(const site::Site& site, std::size_t element);

/// Whether a frame holds several points and is shown as an area; others are but a bar.
bool is_area(const Plan& plan, std::size_t frame);

/// "6 circuits", "1 circuit".
std::string circuits_in_words(std::size_t count);

}  // namespace linewright::diagram
