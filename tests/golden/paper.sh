#!/bin/sh
# The printed sample holds every word it was given, in reading order, on sheets of the right size.
# Usage: paper.sh PAPER_PRINT; ends with 77 (skipped) where there is no pdftotext.
set -eu

command -v pdftotext >/dev/null && command -v pdfinfo >/dev/null || exit 77
dir=$(mktemp -d)
trap 'rm -r "$dir"' EXIT

failed=0
check() { # what, command ...
    what=$1
    shift
    if "$@" >/dev/null; then echo "ok - $what"; else echo "not ok - $what"; failed=1; fi
}
says() { grep -qF -- "$1" "$dir/flat"; }
sheets() { pdfinfo "$dir/$1.pdf" | sed -n 's/^Pages: *//p'; }

for paper in A4 Letter; do
    "$1" $paper "$dir/$paper.pdf"
    pdftotext -enc UTF-8 "$dir/$paper.pdf" "$dir/text"
    tr '\n\f' '  ' <"$dir/text" | tr -s ' ' >"$dir/flat"
    n=$(sheets $paper)
    for words in "Before you start" "What you need" "Taking down" "Building up" "Bag tags" "continued" \
        "Sheet" "1 of $n" "$n of $n" "2026-11-25" "Juice clarifier no. 2, cider co-operative" "Job sheet" \
        "DANGER" "To be tried: start button pressed" "45.002 to 45.013 mm" "33 µm" "118 N·m" "LH" "Released by" \
        "warming the neck bearing, about 12 min" "upright → on its back" "± 0.002 mm" "bowl body (off)" "Ø37 h6" \
        "Dirty work ends here" "Charge hand" "Photo 1, foot bearing" "Photo 4, kept and not printed here"; do
        check "$paper: $words" says "$words"
    done
done
check "the head of a long table is printed again" test "$(grep -c 'As left' "$dir/text")" -ge 2
check "a step taller than the sheet keeps all its readings" says "rim at 345°"
check "A4 is 595 x 842 points" sh -c "pdfinfo '$dir/A4.pdf' | grep -E 'Page size: +595\.[0-9]+ x 841\.[0-9]+ pts'"
check "Letter is 612 x 792 points" sh -c "pdfinfo '$dir/Letter.pdf' | grep -E 'Page size: +612 x 792 pts'"
check "dated as issued" sh -c "TZ=UTC pdfinfo -isodates '$dir/A4.pdf' | grep 'CreationDate: *2026-11-25T00:00:00'"
check "no other date" sh -c "! pdfinfo -isodates '$dir/A4.pdf' | grep ModDate"
exit $failed
