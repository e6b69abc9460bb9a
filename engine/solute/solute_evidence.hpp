#pragma once

#include "input/fields.hpp"
#include "solute/solute_file.hpp"

namespace firstcrop::detail {

/// The lists `known`, `published` and `trials` of a solute file.
void read_known(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute);
void read_published(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute);
void read_trials(Fields& file, const SoluteVocabulary& vocabulary, SoluteFile& solute);

/// A finding at a name that the check does not know.
void check_name(const Fields& fields, const YamlNode& node, const NameCheck& check);

/// A finding where a quantity lies outside what a bench can mean; `low` and `high` are canonical and
/// included.
void check_within(const Fields& fields, const YamlNode* node, const std::optional<WrittenQuantity>& quantity,
                  double low, double high, const std::string& meaning, const std::string& help);

}  // namespace firstcrop::detail
