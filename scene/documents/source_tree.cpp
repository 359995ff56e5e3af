#include "scene/documents/source_tree.hpp"

#include "scene/documents/source_lines.hpp"
#include "scene/documents/syntax_fault.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <limits>
#include <map>
#include <string>
#include <unordered_map>
#include <utility>

namespace evenclose {
namespace {

// The reader gives up on a number that overflows its type, and with it on all that follows. With the wide type it
// reads on, so that 1e999 becomes a fault with a place among the others. The value itself is read from the text.
using WideJson =
    nlohmann::basic_json<std::map, std::vector, std::string, bool, std::int64_t, std::uint64_t, long double>;

// A press of a hundred members has two thousand values, a table of ten thousand readings forty. A value takes some hundred
// times the memory of "0,", and what a file names wrongly is compared with every right word: so far and no further.
constexpr std::size_t kMostValues = 200'000;
constexpr std::size_t kMostDoubled = 500; // nobody mends more in one go
// Line ends and tabs. The reader keeps what stands between two values, and writes each as "<U+000A>" when it gives up.
constexpr std::ptrdiff_t kMostControls = 2'000'000;

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

/// Follows the reader through the text, from token to token. The text is known to be right as far as it goes.
class TokenFollower {
public:
    explicit TokenFollower(std::string_view text) : text_{text} {
        if (text_.starts_with(kByteOrderMark)) {
            at_ = kByteOrderMark.size();
        }
    }

    [[nodiscard]] SourceSpan bracket() {
        const std::size_t begin = skip_to_token();
        at_ = std::min(begin + 1, text_.size());
        return {begin, at_};
    }

    [[nodiscard]] SourceSpan in_quotes() {
        const std::size_t begin = skip_to_token();
        at_ = begin + 1;
        while (at_ < text_.size() && text_[at_] != '"') {
            at_ += text_[at_] == '\\' ? 2 : 1;
        }
        at_ = std::min(at_ + 1, text_.size());
        return {begin, at_};
    }

    /// A number, true, false or null.
    [[nodiscard]] SourceSpan bare() {
        const std::size_t begin = skip_to_token();
        at_ = begin;
        while (at_ < text_.size() && !is_blank(text_[at_]) && text_[at_] != ',' && text_[at_] != ']' &&
               text_[at_] != '}' && text_[at_] != '/') {
            ++at_;
        }
        return {begin, at_};
    }

    /// Where the next token starts; commas and colons are passed over.
    std::size_t skip_to_token() {
        while (at_ < text_.size()) {
            if (is_blank(text_[at_]) || text_[at_] == ',' || text_[at_] == ':') {
                ++at_;
            } else if (text_.substr(at_, 2) == "//") {
                // The reader ends such a comment at either of these.
                at_ = std::min(text_.find_first_of("\r\n", at_), text_.size());
            } else if (text_.substr(at_, 2) == "/*") {
                const std::size_t end = text_.find("*/", at_ + 2);
                at_ = end == std::string_view::npos ? text_.size() : end + 2;
            } else {
                break;
            }
        }
        return at_;
    }

private:
    std::string_view text_;
    std::size_t at_ = 0;
};

struct Doubled {
    std::string place;
    std::size_t first_byte, byte;
};

/// Takes the reader's calls and builds the tree.
class TreeBuilder : public nlohmann::json_sax<WideJson> {
public:
    explicit TreeBuilder(std::string_view text) : text_{text}, follower_{text} {}

    bool null() override { return scalar(SourceValue::Kind::null, follower_.bare()); }
    bool boolean(bool value) override {
        SourceValue result = make(SourceValue::Kind::boolean, follower_.bare());
        result.boolean = value;
        return add(std::move(result));
    }
    bool number_integer(number_integer_t value) override { return number(static_cast<long double>(value), true); }
    bool number_unsigned(number_unsigned_t value) override { return number(static_cast<long double>(value), true); }
    bool number_float(number_float_t value, const string_t& typed) override {
        // A whole number too long for 64 bits comes this way too.
        return number(value, typed.find_first_of(".eE") == std::string::npos);
    }
    bool string(string_t& value) override {
        SourceValue result = make(SourceValue::Kind::text, follower_.in_quotes());
        result.text = std::move(value);
        return add(std::move(result));
    }
    bool binary(binary_t& /*unused*/) override { return false; } // never in text
    bool start_object(std::size_t /*unused*/) override { return open(SourceValue::Kind::object); }
    bool end_object() override { return close(); }
    bool start_array(std::size_t /*unused*/) override { return open(SourceValue::Kind::list); }
    bool end_array() override { return close(); }
    bool key(string_t& value) override {
        Level& level = levels_.back();
        level.key_span = follower_.in_quotes();
        level.key = std::move(value);
        const auto [first, is_new] = level.seen.try_emplace(level.key, level.key_span.begin);
        level.skip_value = !is_new;
        if (!is_new && doubled.size() < kMostDoubled) {
            doubled.push_back({place_of(place(), level.key), first->second, level.key_span.begin});
        }
        return true;
    }
    bool parse_error(std::size_t position, const std::string& /*unused*/,
                     const nlohmann::detail::exception& error) override {
        stop.bytes_read = position;
        stop.why = error.what();
        stop.next_token = follower_.skip_to_token();
        return false;
    }

    std::optional<SourceValue> root;
    std::vector<Doubled> doubled;
    std::optional<std::size_t> too_deep_at, too_many_at;
    SyntaxStop stop; // if the text is no JSON

    /// Of the innermost list or object that is open.
    [[nodiscard]] std::string place() const {
        std::string result;
        for (std::size_t i = 0; i + 1 < levels_.size(); ++i) {
            const Level& level = levels_[i];
            result = level.value.kind == SourceValue::Kind::object ? place_of(result, level.key)
                                                                   : place_of(result, level.value.items.size());
        }
        return result;
    }

private:
    struct Level {
        SourceValue value;
        std::string key;
        SourceSpan key_span;
        bool skip_value = false; // of a doubled key
        std::unordered_map<std::string, std::size_t> seen;
    };

    static SourceValue make(SourceValue::Kind kind, SourceSpan span) {
        SourceValue value;
        value.kind = kind;
        value.span = span;
        return value;
    }
    bool scalar(SourceValue::Kind kind, SourceSpan span) { return add(make(kind, span)); }

    bool number(long double wide, bool whole) {
        SourceValue result = make(SourceValue::Kind::number, follower_.bare());
        result.whole = whole;
        const std::string_view typed = text_.substr(result.span.begin, result.span.end - result.span.begin);
        const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), result.number);
        if (error == std::errc::result_out_of_range) {
            const bool overflow = wide > 1 || wide < -1;
            const double infinity = std::numeric_limits<double>::infinity();
            result.number = !overflow ? 0.0 : (wide > 0 ? infinity : -infinity);
        }
        return add(std::move(result));
    }

    bool open(SourceValue::Kind kind) {
        const SourceSpan span = follower_.bracket();
        if (static_cast<int>(levels_.size()) >= kDeepestNesting) {
            too_deep_at = span.begin;
            return false;
        }
        levels_.emplace_back();
        levels_.back().value = make(kind, span);
        return true;
    }

    bool close() {
        SourceValue value = std::move(levels_.back().value);
        levels_.pop_back();
        value.span.end = follower_.bracket().end;
        return add(std::move(value));
    }

    bool add(SourceValue value) {
        if (++values_ > kMostValues) {
            too_many_at = value.span.begin;
            return false;
        }
        if (levels_.empty()) {
            root = std::move(value);
            return true;
        }
        Level& level = levels_.back();
        if (level.value.kind == SourceValue::Kind::list) {
            level.value.items.push_back(std::move(value));
        } else if (!level.skip_value) {
            level.value.entries.push_back({level.key, level.key_span, std::move(value)});
        }
        return true;
    }

    std::string_view text_;
    TokenFollower follower_;
    std::vector<Level> levels_;
    std::size_t values_ = 0;
};

bool is_plain_word(std::string_view key) {
    return !key.empty() && key.size() <= 48 && std::all_of(key.begin(), key.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
    });
}

} // namespace

const SourceValue* SourceValue::find(std::string_view key) const {
    const auto entry = std::find_if(entries.begin(), entries.end(),
                                    [&](const SourceEntry& candidate) { return candidate.key == key; });
    return entry == entries.end() ? nullptr : &entry->value;
}

SourceTree read_source_tree(std::string_view text, const std::string& file) {
    SourceTree tree;
    const SourceLines lines{text};
    const bool utf16 = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
    const bool blank = std::count_if(text.begin(), text.end(),
                                     [](char c) { return static_cast<unsigned char>(c) < 0x20; }) > kMostControls;
    // The reader would take a zero byte for the end and never look at what follows.
    if (utf16 || blank || text.find('\0') != std::string_view::npos) {
        DocumentFault fault;
        fault.file = file;
        fault.problem = utf16   ? "is text in UTF-16"
                        : blank ? "has more than two million line ends and tabs"
                                : "has zero bytes in it: it is no text file, or was damaged";
        fault.allowed = utf16 ? "save it as UTF-8" : blank ? "no document needs that" : "";
        tree.faults.push_back(std::move(fault));
        return tree;
    }
    TreeBuilder builder{text};
    constexpr bool strict = true;
    constexpr bool comments = true;
    if (WideJson::sax_parse(text, &builder, WideJson::input_format_t::json, strict, comments)) {
        tree.root = std::move(builder.root);
    } else if (builder.too_deep_at || builder.too_many_at) {
        DocumentFault fault;
        const SourceLines::Position position =
            lines.position(builder.too_deep_at ? *builder.too_deep_at : *builder.too_many_at);
        fault.line = position.line;
        fault.column = position.column;
        fault.place = "line " + std::to_string(fault.line) + ", column " + std::to_string(fault.column);
        fault.problem = builder.too_deep_at
                            ? "brackets are nested more than " + std::to_string(kDeepestNesting) + " deep"
                            : "there are more than " + std::to_string(kMostValues) + " values";
        fault.allowed = "no document needs that";
        tree.faults.push_back(std::move(fault));
    } else {
        tree.faults.push_back(syntax_fault(text, lines, builder.stop));
    }
    for (const Doubled& key : builder.doubled) {
        DocumentFault fault;
        const SourceLines::Position position = lines.position(key.byte);
        fault.line = position.line;
        fault.column = position.column;
        fault.place = key.place;
        const std::size_t first_line = lines.position(key.first_byte).line;
        fault.problem = first_line == fault.line ? "given twice in line " + std::to_string(fault.line)
                                                 : "given twice, in line " + std::to_string(first_line) + " and line " +
                                                       std::to_string(fault.line);
        fault.allowed = "keep one";
        tree.faults.push_back(std::move(fault));
    }
    for (DocumentFault& fault : tree.faults) {
        fault.file = file;
    }
    return tree;
}

std::string place_of(const std::string& place, std::string_view key) {
    const std::string word = is_plain_word(key) ? std::string{key} : "\"" + shown(key) + "\"";
    return place.empty() ? word : place + "." + word;
}

std::string place_of(const std::string& place, std::size_t index) { return place + "[" + std::to_string(index) + "]"; }

} // namespace evenclose
