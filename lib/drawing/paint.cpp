#include "drawing/paint.hpp"

#include <algorithm>
#include <cstddef>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

namespace linewright::drawing {
namespace {

void set_colour(cairo_t* context, Colour c) {
  cairo_set_source_rgb(context, c.red / 255.0, c.green / 255.0, c.blue / 255.0);
}

/// Adds the path to the context's own.
void trace(cairo_t* context, const Path& path) {
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

bool has_fill(const Outline& outline) {
  return outline.fill != Paint::none;
}

std::optional<Pen> pen_of(const Outline& outline) {
  if (!(outline.width > 0.0)) return {};
  return Pen{outline.width, black, outline.dash, outline.round_ends};
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

/// What successive lettering has in common where it can be shown at once.
struct LetteringStyle {
  cairo_font_face_t* face = nullptr;
  double size = 0.0;
  Colour colour;
  diagram::Turn turn = diagram::Turn::upright;
  bool right_to_left = false;
  friend bool operator==(const LetteringStyle&, const LetteringStyle&) = default;
};

/// Lettering of one style, gathered to be shown with one call: each call costs Cairo more than
/// what it shows.
struct LetteringGathered {
  LetteringStyle style;
  std::string text;
  std::vector<cairo_glyph_t> glyphs;
  std::vector<cairo_text_cluster_t> clusters;
};

// All is painted in the units of the device: with a scale in force Cairo would write a matrix for
// every line. Lines of one pen are gathered until something is filled, dots until then as well, and
// lettering comes last, in its own order.
class Painter {
 public:
  Painter(cairo_t* context, const DisplayList& sheet, const CairoFaces& faces,
          const PaintHooks& hooks)
      : context_(context), sheet_(sheet), faces_(faces), hooks_(hooks) {
    cairo_get_matrix(context, &mm_);
    cairo_new_path(context);
    cairo_identity_matrix(context);
  }

  void draw(const Shape& shape) {
    cairo_set_matrix(context_, &mm_);
    draw(shape.path, shape.pen, shape.fill);
    cairo_identity_matrix(context_);
  }

  void draw(const Disc& disc) { discs_.push_back(&disc); }

  void draw(const Lettering& text) {
    double x = 0.0;
    if (text.anchor == diagram::Anchor::middle) x = -text.shaped.width / 2.0;
    if (text.anchor == diagram::Anchor::end) x = -text.shaped.width;
    for (const GlyphRun& run : text.shaped.runs)
      gather(text, run, x);
  }

  void draw(const Placement& placement) {
    const auto found = sheet_.symbols.find(placement.symbol);
    if (found == sheet_.symbols.end()) return;
    cairo_set_matrix(context_, &mm_);
    cairo_translate(context_, placement.at.x, placement.at.y);
    cairo_rotate(context_, placement.quarter_turns * std::numbers::pi / 2.0);
    cairo_matrix_t here;
    cairo_get_matrix(context_, &here);
    for (const Outline& outline : found->second.outlines) {
      std::optional<Colour> fill;
      if (has_fill(outline)) fill = outline.fill == Paint::ink ? black : white;
      cairo_set_matrix(context_, &here);
      draw(outline.path, pen_of(outline), fill);
    }
    cairo_identity_matrix(context_);
  }

  void draw(const Jump& jump) {
    if (hooks_.jump) hooks_.jump(jump);
  }

  /// Paints what was gathered; the context is as it was before.
  void finish() {
    settle();
    for (const LetteringGathered& line : lettering_)
      show(line);
    cairo_set_matrix(context_, &mm_);
  }

 private:
  double scale() const { return mm_.xx; }

  void draw(const Path& path, const std::optional<Pen>& pen, const std::optional<Colour>& fill) {
    if (fill) {
      settle();
      trace(context_, path);
      set_colour(context_, *fill);
      cairo_fill_preserve(context_);
      if (pen)
        pen_ = pen;
      else
        cairo_new_path(context_);
    } else if (pen) {
      if (pen_ && *pen_ != *pen) stroke();
      pen_ = pen;
      trace(context_, path);
    }
  }

  void stroke() {
    if (!pen_) return;
    cairo_matrix_t before;
    cairo_get_matrix(context_, &before);
    cairo_identity_matrix(context_);
    set_colour(context_, pen_->colour);
    cairo_set_line_width(context_, pen_->width * scale());
    cairo_set_line_cap(context_, pen_->round_ends ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(context_, CAIRO_LINE_JOIN_ROUND);
    std::vector<double> dash;
    for (const double length : pen_->dash)
      dash.push_back(length * scale());
    cairo_set_dash(context_, dash.data(), static_cast<int>(dash.size()), 0.0);
    cairo_stroke(context_);
    cairo_set_matrix(context_, &before);
    pen_.reset();
  }

  void fill_discs() {
    for (std::size_t i = 0; i < discs_.size(); ++i) {
      const Disc& disc = *discs_[i];
      cairo_new_sub_path(context_);
      cairo_arc(context_, disc.centre.x, disc.centre.y, disc.diameter / 2.0, 0.0,
                2.0 * std::numbers::pi);
      if (i + 1 < discs_.size() && discs_[i + 1]->colour == disc.colour) continue;
      set_colour(context_, disc.colour);
      cairo_fill(context_);
    }
    discs_.clear();
  }

  /// Paints the lines and dots that were gathered.
  void settle() {
    stroke();
    if (discs_.empty()) return;
    cairo_matrix_t before;
    cairo_get_matrix(context_, &before);
    cairo_set_matrix(context_, &mm_);
    fill_discs();
    cairo_set_matrix(context_, &before);
  }

  void gather(const Lettering& text, const GlyphRun& run, double& x) {
    const LetteringStyle style{faces_.faces[static_cast<std::size_t>(run.face)], text.size,
                               text.colour, text.turn, run.right_to_left};
    if (lettering_.empty() || lettering_.back().style != style || run.right_to_left)
      lettering_.push_back({style, {}, {}, {}});
    LetteringGathered& line = lettering_.back();
    const bool upright = text.turn == diagram::Turn::upright;
    for (const Glyph& glyph : run.glyphs) {
      const double along = x + glyph.offset_x;
      const double across = glyph.offset_y;
      line.glyphs.push_back({glyph.id, (text.at.x + (upright ? along : across)) * scale(),
                             (text.at.y + (upright ? across : -along)) * scale()});
      x += glyph.advance;
    }
    line.text += run.text;
    const std::vector<cairo_text_cluster_t> clusters = clusters_of(run);
    line.clusters.insert(line.clusters.end(), clusters.begin(), clusters.end());
  }

  void show(const LetteringGathered& line) {
    const double size = line.style.size * scale();
    cairo_matrix_t letters;
    if (line.style.turn == diagram::Turn::upright)
      cairo_matrix_init(&letters, size, 0.0, 0.0, size, 0.0, 0.0);
    else
      cairo_matrix_init(&letters, 0.0, -size, size, 0.0, 0.0, 0.0);
    set_colour(context_, line.style.colour);
    cairo_set_font_face(context_, line.style.face);
    cairo_set_font_matrix(context_, &letters);
    cairo_show_text_glyphs(
        context_, line.text.data(), static_cast<int>(line.text.size()), line.glyphs.data(),
        static_cast<int>(line.glyphs.size()), line.clusters.data(),
        static_cast<int>(line.clusters.size()),
        line.style.right_to_left ? CAIRO_TEXT_CLUSTER_FLAG_BACKWARD : cairo_text_cluster_flags_t{});
  }

  cairo_t* context_;
  const DisplayList& sheet_;
  const CairoFaces& faces_;
  const PaintHooks& hooks_;
  cairo_matrix_t mm_{};
  std::optional<Pen> pen_;  ///< of the lines in the context's path, if there are any
  std::vector<const Disc*> discs_;
  std::vector<LetteringGathered> lettering_;
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

  Painter painter(context, sheet, faces, hooks);
  for (const DrawnGroup& group : sheet.groups) {
    if (hooks.group) hooks.group(group);
    for (const Mark& mark : group.marks) {
      std::visit([&](const auto& one) { painter.draw(one); }, mark);
    }
  }
  painter.finish();
}

}  // namespace linewright::drawing
