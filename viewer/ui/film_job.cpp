#include "viewer/ui/film_job.hpp"

#include "viewer/app/app.hpp"
#include "viewer/ui/film_of.hpp"

#include <fmt/format.h>

#include <string>
#include <utility>
#include <variant>

namespace evenclose {

BackgroundJobs::Job film_job(const App& app, const FilmWanted& wanted) {
    return {[wanted, film = film_of(app, wanted)](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
                const Read<FilmName> name = read_film_name(wanted.file);
                if (const auto* fault = std::get_if<Unreadable>(&name)) {
                    hand_over(CloselyIntent{FilmEnded{wanted, fault->why}});
                } else if (save_film(film, std::get<FilmName>(name), progress)) {
                    hand_over(CloselyIntent{FilmEnded{wanted, {}}});
                }
            },
            [wanted](const std::string& why) {
                return CloselyIntent{FilmEnded{wanted, fmt::format("No film was written: {}", why)}};
            }};
}

} // namespace evenclose
