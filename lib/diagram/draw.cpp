#include "diagram/draw.hpp"

namespace linewright::diagram {

void draw(const std::vector<Drawing>& drawings, Sketch& sketch) {
  for (const Drawing& drawing : drawings) {
    draw_boundaries(drawing, sketch);
    draw_chains(drawing, sketch);
    draw_sources(drawing, sketch);
    draw_bars(drawing, sketch);
    draw_ends(drawing, sketch);
    draw_tables(drawing, sketch);
  }
  if (!drawings.empty()) draw_interlocks(drawings.front().site, sketch);
  for (const Drawing& drawing : drawings) {
    name_boundaries(drawing, sketch);
    name_bars(drawing, sketch);
  }
}

}  // namespace linewright::diagram
