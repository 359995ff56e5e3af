# bash completion of evenclose
_evenclose() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}
    local commands="check report picture profile export pieces mesh fit plan"
    case $before in
        --only) mapfile -t COMPREPLY < <(compgen -W "mesh seat load-in daylight stroke travel level cavity bend release print pressure frame stack time hands" -- "${word##*,}"); return ;;
        --view) mapfile -t COMPREPLY < <(compgen -W "corner front back left right top mold" -- "$word"); return ;;
        --map) mapfile -t COMPREPLY < <(compgen -W "none cavity bend pressure" -- "$word"); return ;;
        --tilt) mapfile -t COMPREPLY < <(compgen -W "nominal worst" -- "$word"); return ;;
        --paper) mapfile -t COMPREPLY < <(compgen -W "a4 letter" -- "$word"); return ;;
        --unit) mapfile -t COMPREPLY < <(compgen -W "mm cm m in ft" -- "$word"); return ;;
        --travel) mapfile -t COMPREPLY < <(compgen -W "open closed" -- "$word"); return ;;
        --jobs|--force|--decks|--decks-a-week|--platen|--opening|--size|--magnify-tilt|--magnify-bend) return ;;
        -o|--output) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
    esac
    if [[ $word == -* ]]; then
        local options="--help"
        case $command in
            check) options+=" --json --only --jobs --force --inch" ;;
            report) options+=" --output --paper --no-pictures --inch --json --jobs" ;;
            picture) options+=" --output --travel --view --size --tilt --magnify-tilt --map --cut --bent --magnify-bend --force --forces --opening --section --flip --hide --see-through --only --names --scale-bar --turntable --stroke --fps" ;;
            profile) options+=" --output --json --jobs" ;;
            export) options+=" --output" ;;
            pieces) options+=" --output --3mf --inch" ;;
            fit) options+=" --like --json --csv --jobs --inch" ;;
            plan) options+=" --like --decks --decks-a-week --platen --output --json --csv --jobs --inch" ;;
            mesh) options+=" --unit --inch --json" ;;
            *) options+=" --version --size" ;;
        esac
        mapfile -t COMPREPLY < <(compgen -W "$options" -- "$word")
        return
    fi
    mapfile -t COMPREPLY < <(compgen -f -- "$word")
    if [[ $COMP_CWORD -eq 1 ]]; then
        mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(compgen -W "$commands" -- "$word")
    fi
}
complete -o filenames -F _evenclose evenclose
