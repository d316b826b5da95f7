// A Modbus TCP device that is not ours (npm modbus-serial), for tools/long. Only for 127.0.0.1; it never changes a register by itself.
// usage: node modbus_room.js PORT. Prints "listening PORT", then does what it is typed: "set hr|ir|di|co ADDRESS VALUE" (answers "ok"),
// "get hr|ir|di|co ADDRESS" (answers "value hr ADDRESS VALUE"). Ends when standard input ends.
"use strict";
const readline = require("readline");
const ServerTCP = require("modbus-serial/servers/servertcp");

const size = 1000;
const tables = { hr: [], ir: [], di: [], co: [] };
for (const name of Object.keys(tables)) tables[name] = new Array(size).fill(0);
const missing = () => Object.assign(new Error("no such address"), { modbusErrorCode: 2 });
const get = (name) => (address) => {
  if (address >= size) throw missing();
  return tables[name][address];
};
const set = (name) => (address, value) => {
  if (address >= size) throw missing();
  tables[name][address] = Number(value);
};
const server = new ServerTCP(
  {
    getHoldingRegister: get("hr"), getInputRegister: get("ir"), getDiscreteInput: get("di"), getCoil: get("co"),
    setRegister: set("hr"), setCoil: set("co"),
  },
  { host: "127.0.0.1", port: Number(process.argv[2]), unitID: 7 });
server._server.on("listening", () => console.log(`listening ${server._server.address().port}`));
server.on("socketError", () => {});
const lines = readline.createInterface({ input: process.stdin });
lines.on("line", (line) => {
  const [verb, name, address, value] = line.split(" ");
  if (verb === "set") {
    tables[name][Number(address)] = Number(value);
    console.log("ok");
  } else {
    console.log(`value ${name} ${address} ${Number(tables[name][Number(address)])}`);
  }
});
lines.on("close", () => process.exit(0));
