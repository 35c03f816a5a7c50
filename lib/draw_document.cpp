#include "draw_document.hpp"

#include <functional>
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

/// What the files of a drawing are made into, each by a piece of work of its own.
struct Made {
  Result<std::string> pdf;
  std::vector<Result<DrawnSheet>> sheets;
};

// The PDF takes longest, so it comes first and the sheets fill the time beside it. Each piece of
// work reads the drawing and writes only its own result.
std::vector<std::function<void()>> work_on(const drawing::Drawing& drawing,
                                           const std::vector<std::string>& file_names,
                                           std::optional<double> dots_per_inch, Made& made) {
  std::vector<std::function<void()>> work{[&] { made.pdf = drawing::write_pdf(drawing); }};
  for (std::size_t i = 0; i < drawing.sheets.size(); ++i)
    work.emplace_back([&drawing, &file_names, &made, dots_per_inch, i] {
      made.sheets[i] = draw_sheet(drawing, i, file_names, dots_per_inch);
    });
  return work;
}

Made make_files(const drawing::Drawing& drawing, const std::vector<std::string>& file_names,
                const DrawOptions& options) {
  const auto tell = [&](Step step) {
    if (options.on_step) options.on_step(step);
  };
  Made made{.pdf = {}, .sheets = std::vector<Result<DrawnSheet>>(drawing.sheets.size())};
  const auto work = work_on(drawing, file_names, options.dots_per_inch, made);
  if (options.do_all) {
    options.do_all(work);
    tell(Step::pdf_written);
  } else {
    for (std::size_t i = 0; i < work.size(); ++i) {
      work[i]();
      if (i == 0) tell(Step::pdf_written);
    }
  }
  tell(Step::svg_written);
  return made;
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

  Made made = make_files(*drawing, file_names, options);
  if (!made.pdf) return fail(made.pdf.error().message);
  Drawn drawn;
  drawn.pdf = std::move(*made.pdf);
  for (Result<DrawnSheet>& sheet : made.sheets) {
    if (!sheet) return fail(sheet.error().message);
    drawn.sheets.push_back(std::move(*sheet));
  }
  for (std::string& notice : drawing::unreadable_notices(*drawing))
    drawn.notices.push_back(std::move(notice));
  drawn.unreadable_texts = drawing->unreadable.size();
  return drawn;
}

}  // namespace linewright
