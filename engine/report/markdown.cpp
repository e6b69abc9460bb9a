#include "report/markdown.hpp"

namespace firstcrop::report {
namespace {

std::string escaped(std::string_view text, std::string_view signs) {
  std::string out;
  for (const char letter : text) {
    if (signs.find(letter) != std::string_view::npos) out += '\\';
    out += letter == '\n' ? ' ' : letter;
  }
  return out;
}

}  // namespace

std::string plain(std::string_view text) {
  return escaped(text, "*_<[`");
}

std::string cell(std::string_view text) {
  return escaped(text, "*_<[`|");
}

std::string code_cell(std::string_view text) {
  return text.empty() ? std::string() : "`" + escaped(text, "|") + "`";
}

}  // namespace firstcrop::report
