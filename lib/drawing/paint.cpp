#include "drawing/paint.hpp"

#include <algorithm>
#include <cstddef>
#include <numbers>
#include <vector>

namespace linewright::drawing {
namespace {

void set_colour(cairo_t* context, Colour c) {
  cairo_set_source_rgb(context, c.red / 255.0, c.green / 255.0, c.blue / 255.0);
}

void trace(cairo_t* context, const Path& path) {
  cairo_new_path(context);
  for (const Segment& segment : path) {
    const auto& p = segment.points;
    switch (segment.kind) {
      case Segment::Kind::move:
        cairo_move_to(context, p[0].x, p[0].y);
        break;
      case Segment::Kind::line:
        cairo_line_to(context, p[0].x, p[0].y);
        break;
      case Segment::Kind::cubic:
        cairo_curve_to(context, p[0].x, p[0].y, p[1].x, p[1].y, p[2].x, p[2].y);
        break;
      case Segment::Kind::close:
        cairo_close_path(context);
        break;
    }
  }
}

void stroke(cairo_t* context, const Pen& pen) {
  set_colour(context, pen.colour);
  cairo_set_line_width(context, pen.width);
  cairo_set_line_cap(context, pen.round_ends ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
  cairo_set_dash(context, pen.dash.data(), static_cast<int>(pen.dash.size()), 0.0);
  cairo_stroke(context);
}

void fill_and_stroke(cairo_t* context, const Path& path, const std::optional<Pen>& pen,
                     const std::optional<Colour>& fill) {
  trace(context, path);
  if (fill) {
    set_colour(context, *fill);
    cairo_fill_preserve(context);
  }
  if (pen) stroke(context, *pen);
  cairo_new_path(context);
}

// Which characters each glyph stands for, in the order of the text.
std::vector<cairo_text_cluster_t> clusters_of(const GlyphRun& run) {
  std::vector<std::size_t> starts;
  std::vector<cairo_text_cluster_t> out;
  for (const Glyph& glyph : run.glyphs) {
    if (starts.empty() || starts.back() != glyph.cluster) {
      starts.push_back(glyph.cluster);
      out.push_back({0, 0});
    }
    ++out.back().num_glyphs;
  }
  if (run.right_to_left) {
    std::reverse(starts.begin(), starts.end());
    std::reverse(out.begin(), out.end());
  }
  for (std::size_t i = 0; i < out.size(); ++i) {
    const std::size_t end = i + 1 < starts.size() ? starts[i + 1] : run.text.size();
    out[i].num_bytes = static_cast<int>(end - starts[i]);
  }
  return out;
}

void show_run(cairo_t* context, const GlyphRun& run, double& x) {
  std::vector<cairo_glyph_t> glyphs;
  for (const Glyph& glyph : run.glyphs) {
    glyphs.push_back({glyph.id, x + glyph.offset_x, glyph.offset_y});
    x += glyph.advance;
  }
  const std::vector<cairo_text_cluster_t> clusters = clusters_of(run);
  cairo_show_text_glyphs(
      context, run.text.data(), static_cast<int>(run.text.size()), glyphs.data(),
      static_cast<int>(glyphs.size()), clusters.data(), static_cast<int>(clusters.size()),
      run.right_to_left ? CAIRO_TEXT_CLUSTER_FLAG_BACKWARD : cairo_text_cluster_flags_t{});
}

struct Painter {
  cairo_t* context;
  const DisplayList& sheet;
  const CairoFaces& faces;
  const PaintHooks& hooks;

  void draw(const Shape& shape) { fill_and_stroke(context, shape.path, shape.pen, shape.fill); }

  void draw(const Disc& disc) {
    set_colour(context, disc.colour);
    cairo_arc(context, disc.centre.x, disc.centre.y, disc.diameter / 2.0, 0.0,
              2.0 * std::numbers::pi);
    cairo_fill(context);
  }

  void draw(const Lettering& text) {
    cairo_save(context);
    cairo_translate(context, text.at.x, text.at.y);
    if (text.turn == diagram::Turn::from_the_right) cairo_rotate(context, -std::numbers::pi / 2.0);
    set_colour(context, text.colour);
    cairo_set_font_size(context, text.size);
    double x = 0.0;
    if (text.anchor == diagram::Anchor::middle) x = -text.shaped.width / 2.0;
    if (text.anchor == diagram::Anchor::end) x = -text.shaped.width;
    for (const GlyphRun& run : text.shaped.runs) {
      cairo_set_font_face(context, faces.faces[static_cast<std::size_t>(run.face)]);
      cairo_set_font_size(context, text.size);
      show_run(context, run, x);
    }
    cairo_restore(context);
  }

  void draw(const Placement& placement) {
    const auto found = sheet.symbols.find(placement.symbol);
    if (found == sheet.symbols.end()) return;
    cairo_save(context);
    cairo_translate(context, placement.at.x, placement.at.y);
    cairo_rotate(context, placement.quarter_turns * std::numbers::pi / 2.0);
    for (const Outline& outline : found->second.outlines) {
      std::optional<Pen> pen;
      if (outline.width > 0.0) pen = Pen{outline.width, black, outline.dash, outline.round_ends};
      std::optional<Colour> fill;
      if (outline.fill != Paint::none) fill = outline.fill == Paint::ink ? black : white;
      fill_and_stroke(context, outline.path, pen, fill);
    }
    cairo_restore(context);
  }

  void draw(const Jump& jump) {
    if (hooks.jump) hooks.jump(jump);
  }
};

}  // namespace

void paint(cairo_t* context, const DisplayList& sheet, const CairoFaces& faces,
           const PaintHooks& hooks) {
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  cairo_set_font_options(context, options);
  cairo_font_options_destroy(options);

  Painter painter{context, sheet, faces, hooks};
  for (const DrawnGroup& group : sheet.groups) {
    if (hooks.group) hooks.group(group);
    for (const Mark& mark : group.marks) {
      std::visit([&](const auto& one) { painter.draw(one); }, mark);
    }
  }
}

}  // namespace linewright::drawing
