# bash completion for linewright. The shell ends words at = : and @ too; here
# they end at blanks alone, since C1.2@left is one.
_linewright() {
    local left=${COMP_LINE:0:COMP_POINT} words=() part blank
    for part in "${COMP_WORDS[@]}"; do
        blank=${left%%[![:blank:]]*}
        left=${left#"$blank"}
        part=${part:0:${#left}}
        left=${left#"$part"}
        if [[ $blank || ${#words[@]} -eq 0 ]]; then
            words+=("$part")
        else
            words[${#words[@]}-1]+=$part
        fi
    done
    words=("${words[@]//[\\\"\']/}")

    local out directive
    out=$("${words[0]/#\~/$HOME}" __complete "${words[@]:1}" 2>/dev/null) || return
    directive=${out##*:} out=${out%:*} out=${out%$'\n'}

    # What the shell does not take as part of the word it must not get back.
    local cur=${words[${#words[@]}-1]} ends='' stem='' c
    [[ $cur == -*=* ]] && cur=${cur#*=}
    for c in = : @; do
        [[ $COMP_WORDBREAKS == *$c* ]] && ends+=$c
    done
    [[ $ends ]] && stem=${cur%"${cur##*[$ends]}"}

    local value about abouts=() i
    COMPREPLY=()
    if ((directive & 24)); then
        compopt -o filenames 2>/dev/null
        while read -r value; do
            COMPREPLY+=("$value")
        done < <(((directive & 8)) && compgen -f -X "!*.$out" -- "$cur"; compgen -d -- "$cur")
        return
    fi
    while IFS=$'\t' read -r value about; do
        [[ $value && $value == "$cur"* ]] || continue
        COMPREPLY+=("${value#"$stem"}")
        abouts+=("$about")
    done <<<"$out"
    if [[ ${#COMPREPLY[@]} -eq 0 ]] && ! ((directive & 4)); then
        compopt -o filenames 2>/dev/null
        while read -r value; do
            COMPREPLY+=("$value")
        done < <(compgen -f -- "$cur")
        return
    fi
    ((directive & 2)) && compopt -o nospace 2>/dev/null
    ((directive & 32)) && compopt -o nosort 2>/dev/null

    # A list says what each one is; what is put into the line does not.
    if [[ ${#COMPREPLY[@]} -gt 1 && $COMP_TYPE != 37 && $COMP_TYPE != 42 ]]; then
        for i in "${!COMPREPLY[@]}"; do
            [[ ${abouts[i]} ]] && COMPREPLY[i]+="  (${abouts[i]})"
        done
    fi
}
complete -F _linewright linewright
