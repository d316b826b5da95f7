// A wire bus (I2C) that is none: /dev/i2c-1 made in user space by the kernel's "character device in user space" (CUSE), with two chips on it, for tools/test-board.
// A humidity chip of the SHT3x family at 0x44 and a two-output 12-bit converter for 0 to 10 V at 0x58, written from their data sheets and register layout, not from our drivers.
// It must never answer what the chip would not: a reading that was not asked for, an address where nobody is, a checksum that is not of the bytes.
// Sources: Linux linux/fuse.h (CUSE and unrestricted ioctl: the kernel is told which of the caller's memory it has to bring, once for each level of pointers),
// linux/i2c-dev.h, linux/i2c.h; CRC-8 0x31 from 0xFF: data sheet of the chip family (BE EF gives 92).
//
// Usage: i2c_chips FOLDER      FOLDER/air: "24.5 55" (°C, %) is what the chip measures; FOLDER/volts: what the converter puts out, mV; FOLDER/silent-44, silent-58: does not answer
#include <errno.h>
#include <fcntl.h>
#include <linux/fuse.h>
#include <linux/i2c-dev.h>
#include <linux/i2c.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/uio.h>
#include <unistd.h>

enum { HUMIDITY = 0x44, VOLTS = 0x58, MOST_MESSAGES = 8, MOST_BYTES = 4096 };

static int device;
static const char *folder;
static int has_measured;
static uint8_t measured[6];
static uint16_t out_raw[2];
static int range_is_ten;

static uint8_t checksum(const uint8_t *bytes, int count) {
    uint8_t sum = 0xff;
    for (int i = 0; i < count; i++) {
        sum ^= bytes[i];
        for (int bit = 0; bit < 8; bit++) sum = sum & 0x80 ? (uint8_t)(sum << 1 ^ 0x31) : (uint8_t)(sum << 1);
    }
    return sum;
}

static FILE *file_of(const char *name, const char *mode) {
    char path[512];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return fopen(path, mode);
}

static int answers(int address) {
    char name[32];
    snprintf(name, sizeof name, "silent-%02x", address);
    FILE *silent = file_of(name, "r");
    if (silent) fclose(silent);
    return !silent && (address == HUMIDITY || address == VOLTS);
}

static void measure(void) {
    double celsius = 24.5, percent = 55;
    FILE *air = file_of("air", "r");
    if (air) {
        if (fscanf(air, "%lf %lf", &celsius, &percent) != 2) fprintf(stderr, "i2c_chips: air is two numbers\n");
        fclose(air);
    }
    const uint16_t words[2] = { (uint16_t)((celsius + 45) / 175 * 65535 + 0.5), (uint16_t)(percent / 100 * 65535 + 0.5) };
    for (int i = 0; i < 2; i++) {
        measured[3 * i] = words[i] >> 8;
        measured[3 * i + 1] = words[i] & 0xff;
        measured[3 * i + 2] = checksum(measured + 3 * i, 2);
    }
    has_measured = 1;
}

// Registers 2 and 4: twelve bits, left-aligned, low byte first. Register 1: range, 0x11 is 10 V, else 5 V.
static void put_volts(void) {
    FILE *volts = file_of("volts.new", "w");
    if (!volts) return;
    for (int i = 0; i < 2; i++) fprintf(volts, "%ld%c", (long)out_raw[i] * (range_is_ten ? 10000 : 5000) / 4095, i ? '\n' : ' ');
    fclose(volts);
    char from[512], to[512];
    snprintf(from, sizeof from, "%s/volts.new", folder);
    snprintf(to, sizeof to, "%s/volts", folder);
    if (rename(from, to)) perror(to);
}

// One message to a chip; 0, or the error a bus gives when nobody takes it.
static int take(int address, const uint8_t *bytes, int count) {
    if (!answers(address)) return -ENXIO;
    if (address == HUMIDITY) {
        has_measured = 0;
        if (count == 2 && bytes[0] == 0x24 && bytes[1] == 0x00) measure();
        return 0;
    }
    if (count == 2 && bytes[0] == 1) range_is_ten = bytes[1] == 0x11;
    else if (count == 3 && (bytes[0] == 2 || bytes[0] == 4)) out_raw[bytes[0] / 2 - 1] = (uint16_t)(bytes[2] << 4 | bytes[1] >> 4);
    else return -ENXIO;
    put_volts();
    return 0;
}

// One message from a chip.
static int give(int address, uint8_t *bytes, int count) {
    if (!answers(address) || address != HUMIDITY || !has_measured) return -ENXIO;
    memset(bytes, 0xff, count);
    memcpy(bytes, measured, count < 6 ? count : 6);
    has_measured = 0;
    return 0;
}

static void reply(uint64_t unique, int error, const void *head, size_t head_length, const void *rest, size_t rest_length) {
    struct fuse_out_header out = { .len = (uint32_t)(sizeof out + (error ? 0 : head_length + rest_length)), .error = error, .unique = unique };
    struct iovec parts[3] = { { &out, sizeof out }, { (void *)head, head_length }, { (void *)rest, rest_length } };
    if (writev(device, parts, error ? 1 : 3) < 0 && errno != ENOENT) perror("i2c_chips: reply");
}

// Asks the kernel to come again with the named pieces of the caller's memory.
static void bring(uint64_t unique, const struct fuse_ioctl_iovec *in, int ins, const struct fuse_ioctl_iovec *out, int outs) {
    struct fuse_ioctl_out head = { .flags = FUSE_IOCTL_RETRY, .in_iovs = ins, .out_iovs = outs };
    struct fuse_ioctl_iovec all[2 * MOST_MESSAGES + 2];
    memcpy(all, in, ins * sizeof *in);
    if (outs) memcpy(all + ins, out, outs * sizeof *out);
    reply(unique, 0, &head, sizeof head, all, (ins + outs) * sizeof *all);
}

static void transfer(uint64_t unique, const struct fuse_ioctl_in *in, const uint8_t *data) {
    struct fuse_ioctl_iovec ins[MOST_MESSAGES + 2] = { { in->arg, sizeof(struct i2c_rdwr_ioctl_data) } }, outs[MOST_MESSAGES];
    struct i2c_rdwr_ioctl_data set;
    if (in->in_size < sizeof set) { bring(unique, ins, 1, NULL, 0); return; }
    memcpy(&set, data, sizeof set);
    if (set.nmsgs < 1 || set.nmsgs > MOST_MESSAGES) { reply(unique, -EINVAL, NULL, 0, NULL, 0); return; }
    struct i2c_msg messages[MOST_MESSAGES];
    const size_t table = set.nmsgs * sizeof *messages;
    ins[1] = (struct fuse_ioctl_iovec){ (uintptr_t)set.msgs, table };
    if (in->in_size < sizeof set + table) { bring(unique, ins, 2, NULL, 0); return; }
    memcpy(messages, data + sizeof set, table);
    int in_count = 2, out_count = 0;
    size_t written = 0, read = 0;
    for (unsigned i = 0; i < set.nmsgs; i++) {
        const struct fuse_ioctl_iovec piece = { (uintptr_t)messages[i].buf, messages[i].len };
        if (messages[i].flags & I2C_M_RD) { outs[out_count++] = piece; read += messages[i].len; }
        else { ins[in_count++] = piece; written += messages[i].len; }
    }
    if (read > MOST_BYTES) { reply(unique, -EINVAL, NULL, 0, NULL, 0); return; }
    if (in->in_size < sizeof set + table + written || in->out_size < read) { bring(unique, ins, in_count, outs, out_count); return; }
    static uint8_t answer[MOST_BYTES];
    const uint8_t *from = data + sizeof set + table;
    uint8_t *to = answer;
    for (unsigned i = 0; i < set.nmsgs; i++) {
        const int is_read = messages[i].flags & I2C_M_RD;
        const int error = is_read ? give(messages[i].addr, to, messages[i].len) : take(messages[i].addr, from, messages[i].len);
        if (error) { reply(unique, error, NULL, 0, NULL, 0); return; }
        if (is_read) to += messages[i].len; else from += messages[i].len;
    }
    const struct fuse_ioctl_out head = { .result = (int)set.nmsgs };
    reply(unique, 0, &head, sizeof head, answer, read);
}

static void control(uint64_t unique, const struct fuse_ioctl_in *in, uint64_t *address) {
    const struct fuse_ioctl_out done = { .result = 0 };
    const uint8_t *data = (const uint8_t *)(in + 1);
    unsigned long functions = I2C_FUNC_I2C;
    const struct fuse_ioctl_iovec place = { in->arg, sizeof functions };
    switch (in->cmd) {
    case I2C_SLAVE: case I2C_SLAVE_FORCE: *address = in->arg; reply(unique, 0, &done, sizeof done, NULL, 0); return;
    case I2C_TIMEOUT: case I2C_RETRIES: reply(unique, 0, &done, sizeof done, NULL, 0); return;
    case I2C_FUNCS:
        if (in->out_size < sizeof functions) bring(unique, NULL, 0, &place, 1);
        else reply(unique, 0, &done, sizeof done, &functions, sizeof functions);
        return;
    case I2C_RDWR: transfer(unique, in, data); return;
    default: reply(unique, -ENOTTY, NULL, 0, NULL, 0); return;
    }
}

static void begin(uint64_t unique, const struct cuse_init_in *in) {
    static const char name[] = "DEVNAME=i2c-1";
    // Number 0: the kernel chooses. The numbers of real buses belong to its own driver, which may be loaded.
    const struct cuse_init_out out = { .major = in->major, .minor = in->minor, .flags = CUSE_UNRESTRICTED_IOCTL, .max_read = MOST_BYTES, .max_write = MOST_BYTES };
    reply(unique, 0, &out, sizeof out, name, sizeof name);
}

int main(int count, char **words) {
    if (count != 2) { fprintf(stderr, "usage: i2c_chips FOLDER\n"); return 2; }
    folder = words[1];
    device = open("/dev/cuse", O_RDWR | O_CLOEXEC);
    if (device < 0) { perror("/dev/cuse"); return 1; }
    static uint8_t request[1 << 17] __attribute__((aligned(8)));
    for (;;) {
        if (read(device, request, sizeof request) < 0) {
            if (errno == EINTR) continue;
            perror("i2c_chips: /dev/cuse");
            return 1;
        }
        const struct fuse_in_header *head = (const void *)request;
        void *body = request + sizeof *head;
        // Each opening remembers the address that was set for plain reading and writing.
        switch (head->opcode) {
        case CUSE_INIT: begin(head->unique, body); break;
        case FUSE_OPEN: {
            const struct fuse_open_out out = { .fh = (uintptr_t)calloc(1, sizeof(uint64_t)), .open_flags = FOPEN_DIRECT_IO | FOPEN_NONSEEKABLE };
            reply(head->unique, 0, &out, sizeof out, NULL, 0);
            break;
        }
        case FUSE_RELEASE: free((void *)(uintptr_t)((struct fuse_release_in *)body)->fh); reply(head->unique, 0, NULL, 0, NULL, 0); break;
        case FUSE_READ: {
            const struct fuse_read_in *in = body;
            static uint8_t bytes[MOST_BYTES];
            const int wanted = in->size < MOST_BYTES ? (int)in->size : MOST_BYTES;
            const int error = give((int)*(uint64_t *)(uintptr_t)in->fh, bytes, wanted);
            reply(head->unique, error, bytes, wanted, NULL, 0);
            break;
        }
        case FUSE_WRITE: {
            const struct fuse_write_in *in = body;
            const struct fuse_write_out out = { .size = in->size };
            reply(head->unique, take((int)*(uint64_t *)(uintptr_t)in->fh, (const uint8_t *)(in + 1), (int)in->size), &out, sizeof out, NULL, 0);
            break;
        }
        case FUSE_IOCTL: control(head->unique, body, (uint64_t *)(uintptr_t)((struct fuse_ioctl_in *)body)->fh); break;
        case FUSE_FLUSH: reply(head->unique, 0, NULL, 0, NULL, 0); break;
        case FUSE_INTERRUPT: break;
        default: reply(head->unique, -ENOSYS, NULL, 0, NULL, 0);
        }
    }
}
