#!/usr/bin/python3
# A Modbus device that is not ours (pymodbus), over TCP or on a serial line, for tests, the demo and people: registers that are set by typing and that
# report what a client writes. Only for 127.0.0.1; it must never change a register by itself.
"""Modbus TCP server on 127.0.0.1, or Modbus RTU server on a serial line (a pseudo-terminal in the tests).

usage: modbus_room.py [--port 0 | --serial PATH --baud 19200] [--unit 1] [--size 1000] [--stay]

Prints "listening PORT" (0 on a serial line), then one line for every value a client writes: "wrote hr|co ADDRESS VALUE SECONDS"
(seconds since start). Lines on standard input:
  set hr|ir|di|co ADDRESS VALUE     answers "ok"
  get hr|ir|di|co ADDRESS           answers "value hr ADDRESS VALUE"
  quit
Addresses count from 0, as over the wire; those from --size on do not exist (exception 2).
It ends at "quit" or when standard input ends; with --stay only at "quit" or a signal.
"""
import argparse
import asyncio
import logging
import sys
import time

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.server.async_io import ModbusSerialServer, ModbusTcpServer
from pymodbus.transaction import ModbusRtuFramer

STARTED = time.monotonic()
# Clients that hang up and addresses that do not exist are what this is for: no word about them on the error stream.
logging.getLogger("pymodbus").setLevel(logging.CRITICAL + 1)


def say(text):
    print(text, flush=True)


class Table(ModbusSequentialDataBlock):
    """One table. pymodbus calls setValues for what a client writes; typing goes past it."""

    def __init__(self, name, size):
        super().__init__(0, [0] * size)
        self.name = name

    def setValues(self, address, values):
        values = values if isinstance(values, list) else [values]
        super().setValues(address, values)
        for offset, value in enumerate(values):
            say(f"wrote {self.name} {address + offset} {int(value)} {time.monotonic() - STARTED:.3f}")

    def put(self, address, value):
        self.values[address] = value


def command(tables, line):
    """Does one typed line; returns False when it is time to go."""
    words = line.split()
    if not words:
        return True
    if words == ["quit"]:
        return False
    try:
        verb, name, address = words[0], words[1], int(words[2])
        table = tables[name]
        if not 0 <= address < len(table.values):
            raise ValueError("no such address")
        if verb == "set" and len(words) == 4:
            value = int(words[3])
            if not 0 <= value <= (65535 if name in ("hr", "ir") else 1):
                raise ValueError("value does not fit")
            table.put(address, value)
            say("ok")
        elif verb == "get" and len(words) == 3:
            say(f"value {name} {address} {int(table.values[address])}")
        else:
            raise ValueError("set TABLE ADDRESS VALUE, get TABLE ADDRESS or quit")
    except (ValueError, KeyError, IndexError) as wrong:
        say(f"error {line.strip()}: {wrong}")
    return True


async def typed(tables, stay):
    reader = asyncio.StreamReader()
    await asyncio.get_running_loop().connect_read_pipe(lambda: asyncio.StreamReaderProtocol(reader), sys.stdin)
    while True:
        line = await reader.readline()
        if not line:
            if stay:
                await asyncio.Event().wait()
            return
        if not command(tables, line.decode("utf-8", "replace")):
            return


async def main():
    parser = argparse.ArgumentParser(description="Modbus TCP device on 127.0.0.1 for tests and the demo")
    parser.add_argument("--port", type=int, default=0, help="0: any free port")
    parser.add_argument("--serial", default="", help="path of a serial port instead of TCP")
    parser.add_argument("--baud", type=int, default=19200)
    parser.add_argument("--unit", type=int, default=1)
    parser.add_argument("--size", type=int, default=1000, help="addresses in each table")
    parser.add_argument("--stay", action="store_true", help="do not end when standard input ends")
    options = parser.parse_args()
    tables = {name: Table(name, options.size) for name in ("hr", "ir", "di", "co")}
    context = ModbusServerContext(slaves={options.unit: ModbusSlaveContext(zero_mode=True, **tables)}, single=False)
    if options.serial:
        line = ModbusSerialServer(context, framer=ModbusRtuFramer, port=options.serial, baudrate=options.baud, ignore_missing_slaves=True)
        await line.start()
        say("listening 0")
        await typed(tables, options.stay)
        return
    server = ModbusTcpServer(context, address=("127.0.0.1", options.port), allow_reuse_address=True)
    serving = asyncio.create_task(server.serve_forever())
    await server.serving
    say(f"listening {server.server.sockets[0].getsockname()[1]}")
    await typed(tables, options.stay)
    serving.cancel()


if __name__ == "__main__":
    asyncio.run(main())
