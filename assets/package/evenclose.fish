# fish completion of evenclose
set -l commands check report picture profile export pieces mesh fit plan
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a check -d 'check a set-up and print what was found'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a report -d 'write all of it on one page'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a picture -d 'draw the press to a PNG file'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a profile -d 'clearance and tilt over the travel'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a export -d 'write the whole press as a glTF binary'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a pieces -d 'cut a mold into pieces that the printer takes'
complete -c evenclose -n "__fish_seen_subcommand_from pieces" -l 3mf
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a fit -d 'one line a mold: fits, or what stops it first'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a plan -d 'how many openings go, and what it takes to press more'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -a mesh -d 'say how large and how sound a mesh file is'
complete -c evenclose -n "not __fish_seen_subcommand_from $commands" -l version -l size
complete -c evenclose -l help
complete -c evenclose -n "__fish_seen_subcommand_from check report profile mesh fit plan" -l json
complete -c evenclose -n "__fish_seen_subcommand_from check report profile fit plan" -l jobs -x
complete -c evenclose -n "__fish_seen_subcommand_from check report pieces mesh fit plan" -l inch
complete -c evenclose -n "__fish_seen_subcommand_from check" -l only -x -a 'mesh seat load-in daylight stroke travel level cavity bend release print pressure frame stack time hands'
complete -c evenclose -n "__fish_seen_subcommand_from report picture profile export pieces plan" -s o -l output -r
complete -c evenclose -n "__fish_seen_subcommand_from check picture" -l force -x
complete -c evenclose -n "__fish_seen_subcommand_from report" -l paper -x -a 'a4 letter'
complete -c evenclose -n "__fish_seen_subcommand_from report" -l no-pictures
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l travel -x -a 'open closed'
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l view -x -a 'corner front back left right top mold'
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l size -l opening -x
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l tilt -x -a 'nominal worst'
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l map -x -a 'none cavity bend pressure'
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l magnify-tilt -l magnify-bend -x
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l cut -l bent -l forces -l flip -l names -l scale-bar
complete -c evenclose -n "__fish_seen_subcommand_from picture" -l section -l hide -l see-through -l only -l turntable -l stroke -l fps -x
complete -c evenclose -n "__fish_seen_subcommand_from mesh" -l unit -x -a 'mm cm m in ft'
complete -c evenclose -n "__fish_seen_subcommand_from fit plan" -l csv
complete -c evenclose -n "__fish_seen_subcommand_from fit plan" -l like -r
complete -c evenclose -n "__fish_seen_subcommand_from plan" -l decks -x
complete -c evenclose -n "__fish_seen_subcommand_from plan" -l decks-a-week -x
complete -c evenclose -n "__fish_seen_subcommand_from plan" -l platen -x
