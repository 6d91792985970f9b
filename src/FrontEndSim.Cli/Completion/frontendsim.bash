# Completion of frontendsim in bash: verbs and options as the program itself tells them, and files.
# For this session: source <(frontendsim completion bash)
# For good:         frontendsim completion bash > ~/.local/share/bash-completion/completions/frontendsim
_frontendsim() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} line=${COMP_LINE:0:COMP_POINT} found file
    COMPREPLY=()
    if [[ $COMP_CWORD -eq 1 || $word == -* || ${COMP_WORDS[1]} == completion ]]; then
        line=${line#*[[:space:]]}
        while IFS= read -r found; do
            [[ $found == --* || $found == [a-z]* ]] && [[ $found == "$word"* ]] && COMPREPLY+=("$found")
        done < <("${COMP_WORDS[0]}" "[suggest:${#line}]" "$line" 2>/dev/null)
        return
    fi
    while IFS= read -r file; do
        # Anything may be written to; what is read is a circuit file or readings.
        case $before in
            --out | -o | --plot) COMPREPLY+=("$file") ;;
            *) [[ -d $file || $file == *.fes || $file == *.csv ]] && COMPREPLY+=("$file") ;;
        esac
    done < <(compgen -f -- "$word")
}
complete -o filenames -F _frontendsim frontendsim
