#include "draw_document.hpp"

#include <utility>

#include <fmt/core.h>

#include "drawing/display_list.hpp"
#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/svg.hpp"
#include "drawing/unreadable.hpp"

namespace linewright {
namespace {

Result<DrawnSheet> draw_sheet(const drawing::Drawing& drawing, std::size_t index,
                              const std::vector<std::string>& file_names,
                              std::optional<double> dots_per_inch) {
  const Result<std::string> svg =
      drawing::write_svg(drawing, {.sheet = index, .file_names = file_names});
  if (!svg) return fail(svg.error().message);
  DrawnSheet sheet{.name = drawing.sheets[index].name, .svg = *svg, .png = {}};
  if (!dots_per_inch) return sheet;
  Result<std::string> png = drawing::write_png(drawing, {.sheet = index, .dpi = *dots_per_inch});
  if (!png) return fail(png.error().message);
  sheet.png = std::move(*png);
  return sheet;
}

}  // namespace

Result<Drawn> draw_document(const diagram::Document& document, const DrawOptions& options) {
  std::vector<std::string> file_names;
  if (!options.file_stem.empty())
    for (const diagram::Sheet& sheet : document.sheets)
      file_names.push_back(fmt::format("{}-{}.svg", options.file_stem, sheet.name));
  const Result<drawing::Drawing> drawing =
      drawing::render(document, options.material.symbols,
                      options.colours == InkColours::black_only ? drawing::Palette::monochrome
                                                                : drawing::Palette::colour,
                      options.material.fonts);
  if (!drawing) return fail(drawing.error().message);

  const auto tell = [&](Step step) {
    if (options.on_step) options.on_step(step);
  };
  Drawn drawn;
  Result<std::string> pdf = drawing::write_pdf(*drawing);
  if (!pdf) return fail(pdf.error().message);
  drawn.pdf = std::move(*pdf);
  tell(Step::pdf_written);
  for (std::size_t i = 0; i < drawing->sheets.size(); ++i) {
    Result<DrawnSheet> sheet = draw_sheet(*drawing, i, file_names, options.dots_per_inch);
    if (!sheet) return fail(sheet.error().message);
    drawn.sheets.push_back(std::move(*sheet));
  }
  tell(Step::svg_written);
  for (std::string& notice : drawing::unreadable_notices(*drawing))
    drawn.notices.push_back(std::move(notice));
  drawn.unreadable_texts = drawing->unreadable.size();
  return drawn;
}

}  // namespace linewright
