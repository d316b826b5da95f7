#!/usr/bin/python3
"""Ferry House as tools/test-board runs it: the weaving room's sensor, fan and valve hang on the board's wire bus, its door, the coil loop's pump and the health
relay on the board's own lines; everything else stays on the four Modbus modules, which are outside of the guest. Refuses when config/ferry-house has changed so
that a line it rewires is not there.

usage: house.py FERRY-HOUSE TO
"""
import pathlib
import sys

REWIRED = [
    ("health.ok: {device: io-plant, channel: health}", "health.ok: {device: board, channel: health}"),
    ("air.temperature: {device: room-sensors, channel: weaving-temperature, kind: wall-sensor}", "air.temperature: {device: weaving-air, channel: temperature, kind: wall-sensor}"),
    ("air.humidity: {device: room-sensors, channel: weaving-humidity, kind: wall-sensor}", "air.humidity: {device: weaving-air, channel: humidity, kind: wall-sensor}"),
    ("opening.open: {device: io-ground, channel: terrace-door}", "opening.open: {device: board, channel: terrace-door}"),
    ("coil.fan: {device: io-ground, channel: weaving-fan}", "coil.fan: {device: converter, channel: out-1}"),
    ("coil.valve: {device: io-ground, channel: weaving-valve}", "coil.valve: {device: converter, channel: out-2}"),
    ("pump.run: {device: io-plant, channel: coil-pump}", "pump.run: {device: board, channel: coil-pump}"),
    # What hung on the modules before is no channel of theirs any more.
    ("      weaving-temperature: {table: input-register, address: 2, type: s16, scale: 0.1 °C}\n", ""),
    ("      weaving-humidity: {table: input-register, address: 3, scale: 0.1 %}\n", ""),
    ("      weaving-fan: {table: holding-register, address: 4, scale: 1 mV}\n", ""),
    ("      weaving-valve: {table: holding-register, address: 5, scale: 1 mV}\n", ""),
    ("      terrace-door: {table: discrete-input, address: 1}\n", ""),
    ("      coil-pump: {table: coil, address: 11}\n", ""),
    ("      health: {table: coil, address: 14}\n", ""),
    # The user network of the emulator: each module is an address of its own.
    ("192.0.2.10", "10.0.2.100"),
    ("192.0.2.11", "10.0.2.101"),
    ("192.0.2.12", "10.0.2.102"),
    ("192.0.2.13", "10.0.2.103"),
    ("\ndevices:\n", """
devices:
  weaving-air: {driver: sht3x, bus: /dev/i2c-1, address: 0x44}
  converter: {driver: dac-0-10v, bus: /dev/i2c-1, address: 0x58}
  board:                     # line 3 of this machine is its power button
    driver: gpio
    chip: /dev/gpiochip0
    lines:
      terrace-door: {line: 0}
      coil-pump: {line: 1}
      health: {line: 2}
"""),
]


def main():
    source, target = map(pathlib.Path, sys.argv[1:3])
    text = (source / "site.yaml").read_text(encoding="utf-8")
    for before, after in REWIRED:
        if text.count(before) != 1:
            sys.exit(f"house.py: {source}/site.yaml: found {text.count(before)} times, must be there once: {before.strip()}")
        text = text.replace(before, after)
    (target / "site.yaml").write_text(text, encoding="utf-8")
    (target / "household.yaml").write_bytes((source / "household.yaml").read_bytes())


if __name__ == "__main__":
    main()
