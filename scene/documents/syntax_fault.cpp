#include "scene/documents/syntax_fault.hpp"

#include <algorithm>
#include <utility>

namespace evenclose {
namespace {

/// The word, text or single bracket that starts at `at`.
std::string_view token_at(std::string_view text, std::size_t at) {
    const std::string_view rest = text.substr(std::min(at, text.size()));
    if (rest.empty() || std::string_view{",:[]{}"}.find(rest.front()) != std::string_view::npos) {
        return rest.substr(0, 1);
    }
    if (rest.front() == '"') {
        return rest.substr(0, rest.find_first_of("\"\n", 1)).size() < rest.size()
                   ? rest.substr(0, rest.find_first_of("\"\n", 1) + 1)
                   : rest;
    }
    return rest.substr(0, rest.find_first_of(" \t\r\n,:[]{}\"", 1));
}

/// The last byte before `at` that is neither blank nor in a // comment; '\0' if none.
char before(std::string_view text, std::size_t at) {
    while (at > 0) {
        const std::size_t newline = text.find_last_of('\n', at - 1);
        const std::size_t line = newline == std::string_view::npos ? 0 : newline + 1;
        std::string_view rest = text.substr(line, at - line);
        rest = rest.substr(0, rest.find("//"));
        const std::size_t last = rest.find_last_not_of(" \t\r\n");
        if (last != std::string_view::npos) {
            return rest[last];
        }
        at = line == 0 ? 0 : line - 1;
    }
    return '\0';
}

/// What is wrong where the reader gave up at a byte of the text: found, problem, allowed.
void explain(std::string_view text, std::size_t byte, const std::string& why, DocumentFault& fault) {
    const auto has = [&](std::string_view words) { return why.find(words) != std::string::npos; };
    const std::string_view token = token_at(text, byte);
    const char wrong = token.empty() ? '\0' : token.front();
    const auto tell = [&](std::string_view found, std::string problem, std::string allowed) {
        fault.found = shown(found);
        fault.problem = std::move(problem);
        fault.allowed = std::move(allowed);
    };
    if (has("ill-formed UTF-8")) {
        tell("", "a byte that is not UTF-8 stands here", "save the file as UTF-8");
    } else if (has("control character U+000A") || has("control character U+000D")) {
        tell("", "a text runs over the end of its line", "close its quotes, or write \\n for a line break");
    } else if (has("invalid string")) {
        tell("", "a text has something in it that JSON does not take: " + why.substr(why.find("invalid string: ") + 16),
             "");
        fault.problem.erase(std::min(fault.problem.find("; last read"), fault.problem.size()));
    } else if (has("out_of_range")) {
        tell(token, "is beyond what a number can hold", "");
    } else if ((wrong == '}' || wrong == ']') && before(text, byte) == ',') {
        tell("", std::string{"a comma stands before the closing "} + wrong, "take it out");
    } else if (has("expected end of input")) {
        tell(token, "stands behind the closing bracket", "nothing may follow there");
    } else if (has("object key")) {
        tell(token, "is no key", "a key stands in double quotes: \"name\"");
    } else if (has("object separator")) {
        tell(token, "stands where a colon is due", "a key is followed by : and its value");
    } else if (has("expected '}'") || has("expected ']'")) {
        const bool mixed_up = wrong == '}' || wrong == ']';
        tell(token,
             mixed_up ? "closes what was opened with the other bracket" : "stands where a comma or a bracket is due",
             "");
    } else {
        tell(token, "is no value", "a value is a number, a text in double quotes, true, false, [ ... ] or { ... }");
    }
}

} // namespace

DocumentFault syntax_fault(std::string_view text, const SourceLines& lines, const SyntaxStop& stop) {
    DocumentFault fault;
    if (text.find_first_not_of(" \t\r\n\xEF\xBB\xBF") == std::string_view::npos) {
        fault.problem = "the file is empty";
        fault.allowed = "a document starts with { \"evenclose\": ";
        return fault;
    }
    const bool in_text = stop.why.find("invalid string") != std::string::npos;
    const bool in_comment = stop.why.find("missing closing '*/'") != std::string::npos;
    const bool ended = stop.bytes_read > text.size() || stop.why.find("unexpected end of input") != std::string::npos;
    // The last byte read, or where its word starts. Inside a text the byte itself is what matters.
    const std::size_t last = stop.bytes_read == 0 ? 0 : stop.bytes_read - 1;
    const std::size_t byte = ended || in_comment ? text.size() : in_text ? last : std::min(last, stop.next_token);
    const SourceLines::Position position = lines.position(byte);
    fault.line = position.line;
    fault.column = position.column;
    fault.place = "line " + std::to_string(fault.line) + ", column " + std::to_string(fault.column);
    if (ended || in_comment) {
        fault.problem = in_text      ? "the file ends in the middle of a text"
                        : in_comment ? "the file ends in the middle of a /* comment"
                                     : "the file ends before its last bracket is closed";
        fault.allowed = "was it cut off?";
    } else {
        explain(text, byte, stop.why, fault);
    }
    return fault;
}

} // namespace evenclose
