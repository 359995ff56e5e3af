#include "scene/documents/document_text.hpp"

#include "scene/documents/atomic_write.hpp"
#include "scene/documents/source_file.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <utility>

namespace evenclose {
namespace {

/// "jacks[1].stroke" in steps: a key or a number in brackets.
struct Step {
    std::string_view key; // empty: `index` counts
    std::size_t index = 0;
};

/// None if it is no place.
std::optional<std::vector<Step>> steps_of(std::string_view place) {
    std::vector<Step> steps;
    while (!place.empty()) {
        if (place.front() == '[') {
            std::size_t index = 0;
            const char* const end = place.data() + place.size();
            const auto [after, error] = std::from_chars(place.data() + 1, end, index);
            if (error != std::errc{} || after == end || *after != ']') {
                return {};
            }
            steps.push_back({{}, index});
            place.remove_prefix(static_cast<std::size_t>(after - place.data()) + 1);
        } else {
            if (!steps.empty()) {
                if (place.front() != '.') {
                    return {};
                }
                place.remove_prefix(1);
            }
            const std::string_view key = place.substr(0, place.find_first_of(".["));
            if (key.empty()) {
                return {};
            }
            steps.push_back({key, 0});
            place.remove_prefix(key.size());
        }
    }
    return steps;
}

const SourceValue* step_into(const SourceValue& value, const Step& step) {
    if (!step.key.empty()) {
        return value.find(step.key);
    }
    return step.index < value.items.size() ? &value.items[step.index] : nullptr;
}

const SourceValue* walk(const SourceValue& root, const std::vector<Step>& steps, std::size_t count) {
    const SourceValue* value = &root;
    for (std::size_t i = 0; i < count && value != nullptr; ++i) {
        value = step_into(*value, steps[i]);
    }
    return value;
}

/// The blanks before the first thing on the line of `at`, if nothing else stands between; none otherwise.
std::optional<std::string_view> own_line_indent(std::string_view text, std::size_t at) {
    const std::size_t newline = at == 0 ? std::string_view::npos : text.find_last_of('\n', at - 1);
    const std::size_t line = newline == std::string_view::npos ? 0 : newline + 1;
    const std::string_view indent = text.substr(line, at - line);
    if (newline == std::string_view::npos || indent.find_first_not_of(" \t") != std::string_view::npos) {
        return {};
    }
    return indent;
}

} // namespace

DocumentText::DocumentText(std::string text, std::string file, SourceValue root)
    : text_{std::move(text)}, as_read_{text_}, file_{std::move(file)}, root_{std::move(root)} {}

std::variant<DocumentText, std::vector<DocumentFault>> DocumentText::read(const std::filesystem::path& file) {
    auto source = read_source_file(file);
    if (auto* fault = std::get_if<DocumentFault>(&source)) {
        return std::vector<DocumentFault>{std::move(*fault)};
    }
    return parse(std::move(std::get<std::string>(source)), file.string());
}

std::variant<DocumentText, std::vector<DocumentFault>> DocumentText::parse(std::string text, const std::string& file) {
    SourceTree tree = read_source_tree(text, file);
    if (!tree.root || !tree.faults.empty()) {
        return std::move(tree.faults);
    }
    return DocumentText{std::move(text), file, std::move(*tree.root)};
}

std::optional<std::string_view> DocumentText::typed_at(std::string_view place) const {
    const auto steps = steps_of(place);
    const SourceValue* value = steps ? walk(root_, *steps, steps->size()) : nullptr;
    if (value == nullptr) {
        return {};
    }
    return std::string_view{text_}.substr(value->span.begin, value->span.end - value->span.begin);
}

std::string DocumentText::with_added_key(const SourceValue& object, std::string_view key, std::string_view json) const {
    std::string edited = text_;
    const std::string entry = fmt::format("{}: {}", json_text(key), json);
    if (object.entries.empty()) {
        edited.insert(object.span.begin + 1, fmt::format(" {} ", entry));
        return edited;
    }
    // The comma goes right behind the last value, before any comment there; the new key takes the same line or its own.
    const SourceEntry& last = object.entries.back();
    const std::size_t behind = last.value.span.end;
    const auto indent = own_line_indent(text_, last.key_span.begin);
    if (!indent) {
        edited.insert(behind, fmt::format(", {}", entry));
        return edited;
    }
    const std::size_t line_end = std::min(text_.find('\n', behind), text_.size());
    const bool carriage = line_end > 0 && line_end < text_.size() && text_[line_end - 1] == '\r';
    const std::string line = fmt::format("{}{}{}", carriage ? "\r\n" : "\n", *indent, entry);
    // A bracket on the last value's line, or a block comment that runs on: then right behind the value.
    const std::string_view rest = std::string_view{text_}.substr(behind, line_end - behind);
    const std::size_t solid = rest.find_first_not_of(" \t\r");
    const bool only_comment = solid == std::string_view::npos || rest.substr(solid).starts_with("//");
    edited.insert(only_comment ? line_end - (carriage ? 1 : 0) : behind,
                  fmt::format("{}{}", only_comment ? "" : ",", line));
    if (only_comment) {
        edited.insert(behind, ",");
    }
    return edited;
}

std::optional<std::string> DocumentText::set(std::string_view place, std::string_view json) {
    const auto said = [&](std::string_view what) { return fmt::format("{}: {}: {}", file_, shown(place), what); };
    const auto steps = steps_of(place);
    if (!steps || steps->empty()) {
        return said("is no place in a document; one is written as in jacks[1].stroke");
    }
    const SourceTree value = read_source_tree(json, "");
    if (!value.root || !value.faults.empty()) {
        return said(shown(json) + " is no JSON value");
    }
    std::string edited;
    if (const SourceValue* old = walk(root_, *steps, steps->size())) {
        edited = text_;
        edited.replace(old->span.begin, old->span.end - old->span.begin, json);
    } else {
        const SourceValue* object = walk(root_, *steps, steps->size() - 1);
        if (object == nullptr || object->kind != SourceValue::Kind::object || steps->back().key.empty()) {
            return said("there is no such place");
        }
        edited = with_added_key(*object, steps->back().key, json);
    }
    // Read again: the spans have moved, and what cannot be read must not be kept.
    SourceTree tree = read_source_tree(edited, file_);
    if (!tree.root || !tree.faults.empty()) {
        return said("cannot hold " + shown(json));
    }
    text_ = std::move(edited);
    root_ = std::move(*tree.root);
    return {};
}

std::optional<std::string> DocumentText::write(const std::filesystem::path& file) {
    std::optional<std::string> fault = write_file_atomically(file, text_);
    if (!fault) {
        as_read_ = text_;
    }
    return fault;
}

std::string json_number(double value) {
    // JSON knows no nan or inf.
    return std::isfinite(value) ? fmt::format("{}", value) : std::string{"null"};
}

std::string json_text(std::string_view text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

} // namespace evenclose
