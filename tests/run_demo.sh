#!/usr/bin/env bash
# run_demo.sh BINARY BRIEF OUT: a run that ends with 0 or 3 (some required check fails or is not checked yet).
rm -rf "$3"
"$1" run "$2" --out "$3"
code=$?
[ $code -eq 0 ] || [ $code -eq 3 ]
