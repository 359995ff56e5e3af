#include "scene/outline/svg_path.hpp"

#include "scene/outline/flatten.hpp"
#include "scene/outline/svg_numbers.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

class PathPen {
public:
    PathPen(std::string_view data, const PlaneMap& map, Flattening flat) : numbers_(data), map_(map), flat_(flat) {}

    std::vector<PlanLine> draw() {
        char command = '\0';
        while (!numbers_.at_end(command != '\0')) {
            if (!numbers_.number_follows()) {
                command = numbers_.take();
                if (!moved_ && command != 'M' && command != 'm') {
                    throw SvgMistake{"a path begins with M"};
                }
            } else if (command == 'M' || command == 'm') {
                command = command == 'M' ? 'L' : 'l'; // further pairs of a move are lines
            } else if (command == '\0' || command == 'Z' || command == 'z') {
                throw SvgMistake{"a number where a command (such as M, L, C, A or Z) should be"};
            }
            step(command);
        }
        end(false);
        return std::move(lines_);
    }

private:
    void step(char command) {
        const bool relative = command >= 'a' && command <= 'z';
        const Vec2 base = relative ? at_ : Vec2{0.0};
        const char upper = relative ? static_cast<char>(command - 'a' + 'A') : command;
        Vec2 handle = at_; // of the next smooth curve, mirrored at its start
        switch (upper) {
        case 'M':
            end(false);
            start_ = at_ = base + pair();
            moved_ = true;
            break;
        case 'L':
            line_to(base + pair());
            break;
        case 'H':
            line_to({base.x + numbers_.number(), at_.y});
            break;
        case 'V':
            line_to({at_.x, base.y + numbers_.number()});
            break;
        case 'C':
        case 'S': {
            const Vec2 first = upper == 'C' ? base + pair() : before_ == 'C' ? 2.0 * at_ - handle_ : at_;
            handle = base + pair();
            const Vec2 to = base + pair();
            add_cubic(places(), map_.apply(first), map_.apply(handle), map_.apply(to), flat_);
            at_ = to;
            break;
        }
        case 'Q':
        case 'T': {
            handle = upper == 'Q' ? base + pair() : before_ == 'Q' ? 2.0 * at_ - handle_ : at_;
            const Vec2 to = base + pair();
            add_quadratic(places(), map_.apply(handle), map_.apply(to), flat_);
            at_ = to;
            break;
        }
        case 'A':
            arc(base);
            break;
        case 'Z':
            end(true);
            at_ = start_;
            break;
        default:
            throw SvgMistake{fmt::format("no command of a path: a character of code {}",
                                         static_cast<int>(static_cast<unsigned char>(command)))};
        }
        before_ = upper == 'S' ? 'C' : upper == 'T' ? 'Q' : upper;
        handle_ = handle;
        if (open_ && count_ + lines_.back().places.size() > kMostPlaces) {
            throw SvgMistake{fmt::format("more than {} corners, arcs cut into chords", kMostPlaces)};
        }
    }

    Vec2 pair() {
        const double x = numbers_.number();
        return {x, numbers_.number()};
    }
    std::vector<Vec2>& places() {
        if (!open_) {
            lines_.push_back({{map_.apply(at_)}, false, 0});
            open_ = true;
        }
        return lines_.back().places;
    }
    void line_to(Vec2 to) {
        places().push_back(map_.apply(to));
        at_ = to;
    }
    void end(bool closed) {
        if (open_) {
            lines_.back().closed = closed;
            count_ += lines_.back().places.size();
        }
        open_ = false;
    }

    void arc(Vec2 base) {
        double rx = std::abs(numbers_.number()), ry = std::abs(numbers_.number());
        const double tilt = numbers_.number() * std::numbers::pi / 180;
        const bool large = numbers_.flag(), positive = numbers_.flag();
        const Vec2 to = base + pair();
        if (rx == 0 || ry == 0 || to == at_) {
            line_to(to);
            return;
        }
        const Vec2 axis{std::cos(tilt), std::sin(tilt)}, across{-axis.y, axis.x};
        const Vec2 half = 0.5 * (at_ - to);
        const Vec2 p{glm::dot(half, axis), glm::dot(half, across)};
        const double stretch = p.x * p.x / (rx * rx) + p.y * p.y / (ry * ry);
        if (stretch > 1) { // too small to reach: grown until it does
            rx *= std::sqrt(stretch);
            ry *= std::sqrt(stretch);
        }
        const double below = rx * rx * p.y * p.y + ry * ry * p.x * p.x;
        const double share = std::sqrt(std::max(0.0, (rx * rx * ry * ry - below) / below));
        const Vec2 c = (large == positive ? -share : share) * Vec2{rx * p.y / ry, -ry * p.x / rx};
        const Vec2 centre = c.x * axis + c.y * across + 0.5 * (at_ + to);
        const double from = std::atan2((p.y - c.y) / ry, (p.x - c.x) / rx);
        double sweep = std::atan2((-p.y - c.y) / ry, (-p.x - c.x) / rx) - from;
        if (positive && sweep < 0) {
            sweep += 2 * std::numbers::pi;
        } else if (!positive && sweep > 0) {
            sweep -= 2 * std::numbers::pi;
        }
        std::vector<Vec2>& into = places();
        add_arc(into, map_.apply(centre), map_.turn(rx * axis), map_.turn(ry * across), from, from + sweep, flat_);
        into.back() = map_.apply(to); // to the last digit
        at_ = to;
    }

    SvgNumbers numbers_;
    PlaneMap map_;
    Flattening flat_;
    std::vector<PlanLine> lines_;
    bool moved_ = false;
    bool open_ = false; // the last of them still grows
    std::size_t count_ = 0;
    Vec2 at_{0.0}, start_{0.0}, handle_{0.0};
    char before_ = '\0';
};

} // namespace

std::vector<PlanLine> read_svg_path(std::string_view data, const PlaneMap& map, Flattening flat) {
    return PathPen(data, map, flat).draw();
}

} // namespace evenclose
