#compdef frontendsim
# Completion of frontendsim in zsh: verbs and options as the program itself tells them, and files.
# For this session: source <(frontendsim completion zsh)
# For good:         frontendsim completion zsh > "${fpath[1]}/_frontendsim"
_frontendsim() {
    local line="${(j: :)words[2,CURRENT]}"
    local -a found
    if [[ $CURRENT -eq 2 || $PREFIX == -* || $words[2] == completion ]]; then
        found=("${(@f)$("$words[1]" "[suggest:${#line}]" "$line" 2>/dev/null)}")
        compadd -- ${(M)found:#(--|[a-z])*}
        return
    fi
    case $words[CURRENT-1] in
        --out | -o | --plot) _files ;;
        *) _files -g '*.(fes|csv)' ;;
    esac
}
# Loaded by itself from fpath it runs; sourced it only registers.
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then
    _frontendsim "$@"
else
    compdef _frontendsim frontendsim
fi
