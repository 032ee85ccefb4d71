# The front door. Meson and Ninja do the building; `meson setup build && ninja -C build` is all that `make` does.
PREFIX ?= /usr/local
BUILD := build
# What `make demo` plans: both spindle bearings of the shipped clarifier.
DEMO := plan machines/juice-clarifier.yaml --renew neck-bearing,foot-bearing \
        --sheet out/job-sheet.pdf --section out/section.svg

all: $(BUILD)/build.ninja
	@ninja -C $(BUILD)

$(BUILD)/build.ninja:
	@meson setup $(BUILD)

packages:
	@tools/install-deps

test-packages:
	@tools/install-deps --tests

bench-packages:
	@tools/install-deps --bench

demo: packages
	@$(MAKE) --no-print-directory all
	@$(BUILD)/wharve $(DEMO)

check: test-packages
	@tools/check

bench: bench-packages all
	@[ -f $(BUILD)-clang/build.ninja ] || CC=clang meson setup $(BUILD)-clang
	@ninja -C $(BUILD)-clang bench/spread
	@meson test -C $(BUILD) --benchmark --verbose --num-processes 1

# docs/handbook/ is printed by the program.
handbook: all
	@rm -f docs/handbook/*.md
	@$(BUILD)/wharve rules --markdown docs/handbook

fuzz: test-packages
	@tools/fuzz

fault: test-packages all
	@ninja -C $(BUILD) fault

mutants: test-packages
	@tools/mutants

install: all
	@meson configure $(BUILD) -Dprefix=$(abspath $(PREFIX))
	@meson install -C $(BUILD)

clean:
	@rm -rf build build-* out

.PHONY: all packages test-packages bench-packages demo check bench handbook fuzz mutants install clean
