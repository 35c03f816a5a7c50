#include "diagram/draw.hpp"

namespace linewright::diagram {

void draw(const Drawing& drawing, Sketch& sketch) {
  draw_boundaries(drawing, sketch);
  draw_chains(drawing, sketch);
  draw_sources(drawing, sketch);
  draw_bars(drawing, sketch);
  draw_ends(drawing, sketch);
  draw_tables(drawing, sketch);
  draw_interlocks(drawing, sketch);
  name_boundaries(drawing, sketch);
  name_bars(drawing, sketch);
}

}  // namespace linewright::diagram
