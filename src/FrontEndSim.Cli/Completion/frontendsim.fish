# Completion of frontendsim in fish: verbs and options as the program itself tells them, and files.
# For this session: frontendsim completion fish | source
# For good:         frontendsim completion fish > ~/.config/fish/completions/frontendsim.fish
function __frontendsim_told
    set -l line (string replace -r '^\s*\S+\s*' '' -- (commandline -cp))
    set -l program (commandline -opc)[1]
    $program "[suggest:"(string length -- "$line")"]" "$line" 2>/dev/null | string match -r '^(?:--|[a-z]).*'
end
function __frontendsim_wants_file
    set -l before (commandline -opc)
    test (count $before) -gt 1; and test "$before[2]" != completion
end
complete -c frontendsim -f
complete -c frontendsim -n 'not __frontendsim_wants_file; or string match -q -- "-*" (commandline -ct)' -a '(__frontendsim_told)'
complete -c frontendsim -n __frontendsim_wants_file -F
