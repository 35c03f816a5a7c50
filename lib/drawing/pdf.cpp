#include "drawing/pdf.hpp"

#include <charconv>
#include <memory>
#include <set>
#include <system_error>

#include <cairo-pdf.h>
#include <fmt/core.h>

#include "drawing/outline.hpp"
#include "drawing/paint.hpp"
#include "drawing/unicode.hpp"
#include "drawing/xml.hpp"

namespace linewright::drawing {
namespace {

constexpr double points_per_mm = 72.0 / 25.4;

using Surface = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;
using Context = std::unique_ptr<cairo_t, decltype(&cairo_destroy)>;

cairo_status_t append(void* closure, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

bool is_date(std::string_view text) {
  constexpr std::string_view shape = "0000-00-00T00:00:00Z";
  if (text.size() != 10 && text.size() != shape.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool digit = text[i] >= '0' && text[i] <= '9';
    if (shape[i] == '0' ? !digit : text[i] != shape[i]) return false;
  }
  return true;
}

Result<std::string> creation_time(const Drawing& drawing, const PdfOptions& options) {
  std::string time = options.created.empty() ? drawing.date : options.created;
  if (time.empty()) time = "1970-01-01";
  if (!is_date(time))
    return fail(fmt::format("'{}' is no date, must be like 2026-11-25", clean_text(time)));
  if (time.size() == 10) time += "T00:00:00Z";
  return time;
}

std::string sheet_titles(const Drawing& drawing) {
  std::string out;
  for (const DisplayList& sheet : drawing.sheets) {
    if (!sheet.title.empty()) out += (out.empty() ? "" : ", ") + sheet.title;
  }
  return out;
}

void set_metadata(cairo_surface_t* surface, const Drawing& drawing, const PdfOptions& options,
                  const std::string& time) {
  const auto set = [&](cairo_pdf_metadata_t which, const std::string& value) {
    if (!value.empty()) cairo_pdf_surface_set_metadata(surface, which, value.c_str());
  };
  set(CAIRO_PDF_METADATA_TITLE, drawing.title);
  set(CAIRO_PDF_METADATA_SUBJECT, drawing.subject);
  set(CAIRO_PDF_METADATA_AUTHOR, drawing.author);
  const std::string keywords = clean_text(options.keywords);
  set(CAIRO_PDF_METADATA_KEYWORDS, keywords.empty() ? sheet_titles(drawing) : keywords);
  set(CAIRO_PDF_METADATA_CREATOR, "Linewright");
  set(CAIRO_PDF_METADATA_CREATE_DATE, time);
  set(CAIRO_PDF_METADATA_MOD_DATE, time);
}

// Names hold letters, digits, '-', '_' and '.', so they need no quoting.
std::string destination(std::size_t sheet, const std::string& mark) {
  return fmt::format("sheet{}{}{}", sheet + 1, mark.empty() ? "" : ".", mark);
}

std::set<std::string> wanted_destinations(const Drawing& drawing) {
  std::set<std::string> out;
  for (const DisplayList& sheet : drawing.sheets) {
    for (const DrawnGroup& group : sheet.groups) {
      for (const Mark& mark : group.marks) {
        const Jump* jump = std::get_if<Jump>(&mark);
        if (jump != nullptr) out.insert(destination(jump->sheet, jump->mark));
      }
    }
  }
  return out;
}

void want(std::size_t sheet, const std::vector<Bookmark>& bookmarks, std::set<std::string>& out) {
  for (const Bookmark& bookmark : bookmarks) {
    out.insert(destination(sheet, bookmark.mark));
    want(sheet, bookmark.inside, out);
  }
}

void add_bookmarks(cairo_surface_t* surface, int parent, std::size_t sheet,
                   const std::vector<Bookmark>& bookmarks) {
  for (const Bookmark& bookmark : bookmarks) {
    const std::string place = fmt::format("dest='{}'", destination(sheet, bookmark.mark));
    const int entry = cairo_pdf_surface_add_outline(surface, parent, bookmark.title.c_str(),
                                                    place.c_str(), cairo_pdf_outline_flags_t{});
    add_bookmarks(surface, entry, sheet, bookmark.inside);
  }
}

// Cairo takes the places in tags as points from the upper left corner, whatever the scale.
std::string in_points(double mm) {
  return svg_number(mm * points_per_mm);
}

// Cairo damages the file when a link stands outside a structure tag, and drops links by page
// number to later pages; so all is inside tags and links go by name.
void draw_sheet(cairo_t* context, const Drawing& drawing, std::size_t index,
                const CairoFaces& faces, const std::set<std::string>& wanted) {
  const DisplayList& sheet = drawing.sheets[index];
  const auto mark_place = [&](const std::string& name, Point at) {
    if (!wanted.contains(name)) return;
    const std::string attributes =
        fmt::format("name='{}' x={} y={}", name, in_points(at.x), in_points(at.y));
    cairo_tag_begin(context, CAIRO_TAG_DEST, attributes.c_str());
    cairo_tag_end(context, CAIRO_TAG_DEST);
  };
  PaintHooks hooks;
  hooks.group = [&](const DrawnGroup& group) {
    if (!group.mark.empty()) mark_place(destination(index, group.mark), corner_of(group));
  };
  hooks.jump = [&](const Jump& jump) {
    const std::string attributes = fmt::format(
        "dest='{}' rect=[{} {} {} {}]", destination(jump.sheet, jump.mark), in_points(jump.area.x),
        in_points(jump.area.y), in_points(jump.area.width), in_points(jump.area.height));
    cairo_tag_begin(context, CAIRO_TAG_LINK, attributes.c_str());
    cairo_tag_end(context, CAIRO_TAG_LINK);
  };
  cairo_save(context);
  cairo_scale(context, points_per_mm, points_per_mm);
  cairo_tag_begin(context, "Document", nullptr);
  cairo_tag_begin(context, "P", nullptr);
  mark_place(destination(index, {}), {0.0, 0.0});
  paint(context, sheet, faces, hooks);
  cairo_tag_end(context, "P");
  cairo_tag_end(context, "Document");
  cairo_restore(context);
}

void add_page(cairo_surface_t* surface, cairo_t* context, const Drawing& drawing, std::size_t index,
              const CairoFaces& faces, const std::set<std::string>& wanted,
              const std::vector<Bookmark>& bookmarks) {
  const DisplayList& sheet = drawing.sheets[index];
  cairo_pdf_surface_set_size(surface, sheet.width * points_per_mm, sheet.height * points_per_mm);
  const std::string label = fmt::format("Sheet {}", index + 1);  // a bare number would be dropped
  cairo_pdf_surface_set_page_label(surface, label.c_str());
  draw_sheet(context, drawing, index, faces, wanted);
  const std::string title = sheet.title.empty() ? sheet.name : sheet.title;
  const std::string place = fmt::format("page={}", index + 1);
  const int entry = cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT,
                                                  title.empty() ? label.c_str() : title.c_str(),
                                                  place.c_str(), cairo_pdf_outline_flags_t{});
  add_bookmarks(surface, entry, index, bookmarks);
  cairo_show_page(context);
}

constexpr long long seconds_per_day = 86'400;

bool is_leap(int year) {
  return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}
int days_of_year(int year) {
  return is_leap(year) ? 366 : 365;
}
int days_of_month(int year, int month) {
  if (month == 2) return is_leap(year) ? 29 : 28;
  return month == 4 || month == 6 || month == 9 || month == 11 ? 30 : 31;
}

}  // namespace

Result<std::string> write_pdf(const Drawing& drawing, const PdfOptions& options) {
  if (drawing.sheets.empty()) return fail("the drawing has no sheet");
  Result<std::string> time = creation_time(drawing, options);
  if (!time) return time;
  const Result<std::unique_ptr<CairoFaces>> faces = open_cairo_faces(drawing.fonts);
  if (!faces) return tl::unexpected(faces.error());

  std::string bytes;
  const Surface surface(cairo_pdf_surface_create_for_stream(append, &bytes, 1.0, 1.0),
                        &cairo_surface_destroy);
  set_metadata(surface.get(), drawing, options, *time);
  std::set<std::string> wanted = wanted_destinations(drawing);
  std::vector<std::vector<Bookmark>> bookmarks;
  for (std::size_t i = 0; i < drawing.sheets.size(); ++i) {
    bookmarks.push_back(bookmarks_of(drawing.sheets[i]));
    want(i, bookmarks.back(), wanted);
  }
  cairo_status_t status = CAIRO_STATUS_SUCCESS;
  {
    const Context context(cairo_create(surface.get()), &cairo_destroy);
    for (std::size_t i = 0; i < drawing.sheets.size(); ++i) {
      add_page(surface.get(), context.get(), drawing, i, **faces, wanted, bookmarks[i]);
    }
    status = cairo_status(context.get());
  }
  cairo_surface_finish(surface.get());
  if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS)
    return fail(fmt::format("the PDF can not be made: {}", cairo_status_to_string(status)));
  return bytes;
}

Result<std::string> time_of_epoch(std::string_view seconds) {
  constexpr long long end_of_9999 = 253'402'300'799;
  long long value = 0;
  const std::string digits(seconds);
  const char* last = digits.c_str() + digits.size();
  const auto [end, error] = std::from_chars(digits.c_str(), last, value);
  if (error != std::errc{} || end != last || value < 0 || value > end_of_9999)
    return fail(fmt::format("'{}' is no number of seconds since 1970", clean_text(seconds)));
  long long days = value / seconds_per_day;
  const long long clock = value % seconds_per_day;
  int year = 1970;
  while (days >= days_of_year(year))
    days -= days_of_year(year++);
  int month = 1;
  while (days >= days_of_month(year, month))
    days -= days_of_month(year, month++);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", year, month, days + 1, clock / 3600,
                     clock / 60 % 60, clock % 60);
}

}  // namespace linewright::drawing
