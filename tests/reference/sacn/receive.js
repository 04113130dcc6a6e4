// Receives on loopback what a player sends, by the npm library `sacn`.
// node receive.js PORT UNIVERSE,UNIVERSE… COMMAND ARGUMENT…
// Runs the command once the port is open. Prints one line of JSON: the packets, what the library objected to, the
// exit code and what the command printed.
'use strict';
const { spawn } = require('child_process');
const { Receiver } = require('sacn');

const [port, universes, command, ...args] = process.argv.slice(2);
const receiver = new Receiver({ universes: universes.split(',').map(Number), port: Number(port), iface: '127.0.0.1' });
const packets = [];
const faults = [];

receiver.on('packet', (p) => {
  const slots = Buffer.alloc(512);
  for (const [slot, percent] of Object.entries(p.payload)) slots[slot - 1] = Math.round(percent * 2.55);
  packets.push({
    universe: p.universe, sequence: p.sequence, priority: p.priority, name: p.sourceName,
    cid: p.cid.toString('hex'), last: (p.options & 0x40) !== 0, preview: (p.options & 0x80) !== 0,
    synchronization: p.syncUniverse, slots: slots.toString('hex'),
  });
});
receiver.on('PacketCorruption', (e) => faults.push(String(e)));
receiver.on('PacketOutOfOrder', (e) => faults.push(String(e)));
receiver.on('error', () => {}); // a loopback without multicast: unicast comes all the same

receiver.socket.on('listening', () => {
  const player = spawn(command, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  player.stdout.on('data', (d) => { said += d; });
  player.stderr.on('data', (d) => { said += d; });
  player.on('close', (code) => setTimeout(() => {
    receiver.close();
    process.stdout.write(JSON.stringify({ packets, faults, code, said }) + '\n');
  }, 200));
});
