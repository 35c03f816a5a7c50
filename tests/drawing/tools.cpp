#include "drawing/tools.hpp"

#include <array>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <utility>

#include <cairo.h>
#include <catch2/catch.hpp>
#include <sys/wait.h>

#include "support/paths.hpp"

namespace linewright::tests {

CommandOutcome run_command(const std::string& command) {
  CommandOutcome outcome;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return outcome;
  std::array<char, 4096> buffer{};
  while (const std::size_t count = std::fread(buffer.data(), 1, buffer.size(), pipe)) {
    outcome.output.append(buffer.data(), count);
  }
  const int status = pclose(pipe);
  outcome.exit = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return outcome;
}

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string write_scratch(std::string_view name, std::string_view bytes) {
  const std::string folder = build_folder() + "/scratch/drawing";
  std::filesystem::create_directories(folder);
  std::string path = folder + "/" + std::string(name);
  std::ofstream file(path, std::ios::binary);
  file << bytes;
  file.close();
  REQUIRE(file);
  return path;
}

int Picture::at(int x, int y) const {
  return grey[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
              static_cast<std::size_t>(x)];
}

Picture read_png(const std::string& bytes) {
  struct Source {
    const std::string& bytes;
    std::size_t at = 0;
  } source{bytes};
  const auto read = [](void* closure, unsigned char* data, unsigned length) {
    auto* from = static_cast<Source*>(closure);
    if (from->at + length > from->bytes.size()) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(data, from->bytes.data() + from->at, length);
    from->at += length;
    return CAIRO_STATUS_SUCCESS;
  };
  const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
      cairo_image_surface_create_from_png_stream(read, &source), &cairo_surface_destroy);
  REQUIRE(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
  Picture out;
  out.width = cairo_image_surface_get_width(surface.get());
  out.height = cairo_image_surface_get_height(surface.get());
  const int stride = cairo_image_surface_get_stride(surface.get());
  const unsigned char* data = cairo_image_surface_get_data(surface.get());
  for (int y = 0; y < out.height; ++y) {
    for (int x = 0; x < out.width; ++x) {
      out.grey.push_back(data[y * stride + x * 4 + 1]);  // the green byte of BGRx
    }
  }
  return out;
}

diagram::Group text_group(std::string text, diagram::Point at) {
  diagram::Group group;
  group.kind = "notes";
  diagram::Text line;
  line.at = at;
  line.text = std::move(text);
  group.items.push_back(line);
  return group;
}

diagram::Document document_of(diagram::Group group) {
  diagram::Document document;
  document.title = "House at the mill";
  document.sheets.emplace_back();
  document.sheets.back().name = "overview";
  document.sheets.back().title = "Overview";
  document.sheets.back().groups.push_back(std::move(group));
  return document;
}

}  // namespace linewright::tests
