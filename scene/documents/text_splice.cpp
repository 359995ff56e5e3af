#include "scene/documents/text_splice.hpp"

#include "scene/documents/document_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace evenclose {
namespace {

const SourceValue* step_into(const SourceValue& value, const PlaceStep& step) {
    if (!step.key.empty()) {
        return value.find(step.key);
    }
    return step.index < value.items.size() ? &value.items[step.index] : nullptr;
}

std::size_t line_start(std::string_view text, std::size_t at) {
    const std::size_t newline = at == 0 ? std::string_view::npos : text.find_last_of('\n', at - 1);
    return newline == std::string_view::npos ? 0 : newline + 1;
}

/// The blanks before the first thing on the line of `at`, if nothing else stands between; none otherwise.
std::optional<std::string_view> own_line_indent(std::string_view text, std::size_t at) {
    const std::size_t line = line_start(text, at);
    const std::string_view indent = text.substr(line, at - line);
    if (line == 0 || indent.find_first_not_of(" \t") != std::string_view::npos) {
        return {};
    }
    return indent;
}

/// With a blank on either side, but for one that is there.
std::string first_in(std::string_view text, const SourceValue& empty, std::string_view entry) {
    const char next = text[empty.span.begin + 1];
    const bool blank = next == ' ' || next == '\t' || next == '\r' || next == '\n';
    return fmt::format(" {}{}", entry, blank ? "" : " ");
}

/// Puts `entry` behind the child that spans `begin` to `behind`: on its line, or on one of its own.
std::string inserted_behind(std::string_view text, std::size_t begin, std::size_t behind, std::string_view entry) {
    std::string edited{text};
    const auto indent = own_line_indent(text, begin);
    if (!indent) {
        edited.insert(behind, fmt::format(", {}", entry));
        return edited;
    }
    const std::size_t line_end = std::min(text.find('\n', behind), text.size());
    const bool carriage = line_end > 0 && line_end < text.size() && text[line_end - 1] == '\r';
    const std::string line = fmt::format("{}{}{}", carriage ? "\r\n" : "\n", *indent, entry);
    // A bracket on the last value's line, or a block comment that runs on: then right behind the value.
    const std::string_view rest = text.substr(behind, line_end - behind);
    const std::size_t solid = rest.find_first_not_of(" \t\r");
    const bool only_comment = solid == std::string_view::npos || rest.substr(solid).starts_with("//");
    edited.insert(only_comment ? line_end - (carriage ? 1 : 0) : behind,
                  fmt::format("{}{}", only_comment ? "" : ",", line));
    if (only_comment) {
        // The comma goes right behind the last value, before any comment there.
        edited.insert(behind, ",");
    }
    return edited;
}

std::size_t skip_blanks(std::string_view text, std::size_t at, const char* blanks) {
    return std::min(text.find_first_not_of(blanks, at), text.size());
}

/// The next comma that is in no comment. Needs: one is there before the next value.
std::size_t comma_from(std::string_view text, std::size_t at) {
    while (at < text.size() && text[at] != ',') {
        if (text.substr(at, 2) == "//") {
            at = std::min(text.find_first_of("\r\n", at), text.size());
        } else if (text.substr(at, 2) == "/*") {
            const std::size_t end = text.find("*/", at + 2);
            at = end == std::string_view::npos ? text.size() : end + 2;
        } else {
            ++at;
        }
    }
    return at;
}

/// Where the next line starts if nothing but blanks and comments stands behind `at` on its line; none otherwise.
std::optional<std::size_t> line_ends_behind(std::string_view text, std::size_t at) {
    at = skip_blanks(text, at, " \t");
    while (text.substr(at, 2) == "/*") {
        const std::size_t end = text.find("*/", at + 2);
        if (end == std::string_view::npos || text.substr(at, end - at).find('\n') != std::string_view::npos) {
            return {};
        }
        at = skip_blanks(text, end + 2, " \t");
    }
    if (text.substr(at, 2) == "//") {
        at = std::min(text.find_first_of("\r\n", at), text.size());
    }
    if (text.substr(at, 2) == "\r\n") {
        return at + 2;
    }
    if (at < text.size() && text[at] == '\n') {
        return at + 1;
    }
    return {};
}

} // namespace

std::optional<std::vector<PlaceStep>> steps_of(std::string_view place) {
    std::vector<PlaceStep> steps;
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

const SourceValue* walk(const SourceValue& root, const std::vector<PlaceStep>& steps, std::size_t count) {
    const SourceValue* value = &root;
    for (std::size_t i = 0; i < count && value != nullptr; ++i) {
        value = step_into(*value, steps[i]);
    }
    return value;
}

std::string with_added_key(std::string_view text, const SourceValue& object, std::string_view key,
                           std::string_view json) {
    const std::string entry = fmt::format("{}: {}", json_text(key), json);
    if (object.entries.empty()) {
        std::string edited{text};
        edited.insert(object.span.begin + 1, first_in(text, object, entry));
        return edited;
    }
    const SourceEntry& last = object.entries.back();
    return inserted_behind(text, last.key_span.begin, last.value.span.end, entry);
}

std::string with_added_item(std::string_view text, const SourceValue& list, std::string_view json) {
    if (list.items.empty()) {
        std::string edited{text};
        edited.insert(list.span.begin + 1, first_in(text, list, json));
        return edited;
    }
    const SourceSpan last = list.items.back().span;
    return inserted_behind(text, last.begin, last.end, json);
}

std::string without_child(std::string_view text, const SourceValue& parent, std::size_t index) {
    const bool object = parent.kind == SourceValue::Kind::object;
    const auto span_of = [&](std::size_t i) {
        return object ? SourceSpan{parent.entries[i].key_span.begin, parent.entries[i].value.span.end}
                      : parent.items[i].span;
    };
    const std::size_t count = object ? parent.entries.size() : parent.items.size();
    const SourceSpan child = span_of(index);
    const bool last = index + 1 == count;
    std::string edited{text};
    const auto cut = [&](std::size_t from, std::size_t to) { edited.erase(from, to - from); };

    std::size_t end = child.end;
    if (!last) {
        const std::size_t comma = comma_from(text, child.end);
        if (skip_blanks(text, child.end, " \t\r\n") != comma) { // a comment between stays
            cut(comma, comma + 1);
            cut(child.begin, child.end);
            return edited;
        }
        end = comma + 1;
    }
    const auto next_line = line_ends_behind(text, end);
    const bool whole_lines = own_line_indent(text, child.begin) && next_line;
    if (whole_lines) {
        cut(line_start(text, child.begin), *next_line);
    } else if (!last || index == 0) {
        cut(child.begin, skip_blanks(text, end, " \t"));
    }
    if (last && index > 0) {
        const std::size_t comma = comma_from(text, span_of(index - 1).end);
        if (whole_lines) {
            cut(comma, comma + 1);
        } else if (skip_blanks(text, comma + 1, " \t\r\n") == child.begin) {
            cut(comma, child.end);
        } else {
            cut(child.begin, child.end);
            cut(comma, comma + 1);
        }
    }
    return edited;
}

} // namespace evenclose
