#!/usr/bin/python3
# A Modbus device that is not ours (libmodbus, called through ctypes), over TCP or on a serial line, for tests. Only for 127.0.0.1 or a pseudo-terminal.
"""Modbus server of libmodbus.

usage: libmodbus_room.py [--port 0 | --serial PATH --baud 19200 --parity N] [--unit 1] [--size 1000]

Prints "listening PORT" (0 on a serial line), then does what it is typed: "set hr|ir|di|co ADDRESS VALUE" (answers "ok"),
"get hr|ir|di|co ADDRESS" (answers "value hr ADDRESS VALUE"), "quit". Ends when standard input ends.
"""
import argparse
import ctypes
import os
import socket
import sys
import threading

lib = ctypes.CDLL("libmodbus.so.5", use_errno=True)


class Mapping(ctypes.Structure):
    """modbus_mapping_t, as /usr/include/modbus/modbus.h of version 3.1.6 lays it out."""

    _fields_ = [(name, ctypes.c_int) for name in (
        "nb_bits", "start_bits", "nb_input_bits", "start_input_bits",
        "nb_input_registers", "start_input_registers", "nb_registers", "start_registers")] + [
            ("co", ctypes.POINTER(ctypes.c_uint8)), ("di", ctypes.POINTER(ctypes.c_uint8)),
            ("ir", ctypes.POINTER(ctypes.c_uint16)), ("hr", ctypes.POINTER(ctypes.c_uint16))]


for function in ("modbus_new_tcp", "modbus_new_rtu"):
    getattr(lib, function).restype = ctypes.c_void_p
lib.modbus_mapping_new.restype = ctypes.POINTER(Mapping)


def say(text):
    print(text, flush=True)


def check(result):
    if result == -1 or result is None:
        raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()))
    return result


def serve(context, mapping):
    """One client after another; a request that is none is passed over."""
    query = (ctypes.c_uint8 * 260)()
    while True:
        length = lib.modbus_receive(context, query)
        if length == -1:
            return
        if length > 0:
            lib.modbus_reply(context, query, length, mapping)


def main():
    parser = argparse.ArgumentParser(description="Modbus server of libmodbus for tests")
    parser.add_argument("--port", type=int, default=0)
    parser.add_argument("--serial", default="")
    parser.add_argument("--baud", type=int, default=19200)
    parser.add_argument("--parity", default="N")
    parser.add_argument("--unit", type=int, default=1)
    parser.add_argument("--size", type=int, default=1000)
    options = parser.parse_args()
    mapping = lib.modbus_mapping_new(*[options.size] * 4)
    if options.serial:
        context = ctypes.c_void_p(check(lib.modbus_new_rtu(options.serial.encode(), options.baud, ctypes.c_char(options.parity.encode()), 8, 1)))
        check(lib.modbus_set_slave(context, options.unit))
        check(lib.modbus_connect(context))

        def work():
            while True:
                serve(context, mapping)

        say("listening 0")
    else:
        listener = socket.socket()
        listener.bind(("127.0.0.1", options.port))
        listener.listen(5)
        context = ctypes.c_void_p(check(lib.modbus_new_tcp(b"127.0.0.1", listener.getsockname()[1])))

        def work():
            while True:
                client, _ = listener.accept()
                check(lib.modbus_set_socket(context, client.fileno()))
                serve(context, mapping)
                client.close()

        say(f"listening {listener.getsockname()[1]}")
    threading.Thread(target=work, daemon=True).start()
    for line in sys.stdin:
        words = line.split()
        if words[:1] == ["quit"]:
            break
        table, address = getattr(mapping.contents, words[1]), int(words[2])
        if words[0] == "set":
            table[address] = int(words[3])
            say("ok")
        else:
            say(f"value {words[1]} {address} {table[address]}")
    os._exit(0)


if __name__ == "__main__":
    main()
