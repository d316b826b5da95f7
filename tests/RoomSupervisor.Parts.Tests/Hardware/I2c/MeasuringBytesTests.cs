// The measuring chips' own bytes: what the drivers write, in which order, and what they make of bytes set by hand. Virtual time.
// Sources: data sheets of the chips; each number names its own.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

public class MeasuringBytesTests
{
    private static PointWiring[] Air { get; } =
        [Rig.Input("r.air.temperature", 0, Quantity.Temperature, "temperature") with { Device = "air" }, Rig.Input("r.air.humidity", 1, Quantity.Percent, "humidity") with { Device = "air" }];

    private static PointWiring CarbonDioxide { get; } = Rig.Input("r.air.co2", 2, Quantity.Number, "co2") with { Device = "air" };

    /// <summary>
    /// The data sheet of the sister chip without humidity works an example: T1 27504, T2 26435, T3 −1000, word 519888: fine temperature 128422, 25.08 °C
    /// (from memory; the same numbers stand in several open-source tests of drivers).
    /// </summary>
    [Fact]
    public void The_data_sheet_s_example_of_compensation()
    {
        var trim = new Bme280Compensation { T1 = 27504, T2 = 26435, T3 = -1000 };
        Assert.Equal(128422, (int)trim.Fine(519888));
        Assert.Equal(25.08, Bme280Compensation.TemperatureC(trim.Fine(519888)), 0.005);
    }

    private static RegisterChip Bme280()
    {
        var chip = new RegisterChip();
        chip.Registers[0xD0] = 0x60;
        // T1 27504, T2 26435, T3 −1000 low byte first; H1 75; H2 370, H3 0, H4 313 and H5 50 sharing E5, H6 30.
        Convert.FromHexString("706b436718fc").CopyTo(chip.Registers, 0x88);
        chip.Registers[0xA1] = 75;
        Convert.FromHexString("7201001329031e").CopyTo(chip.Registers, 0xE1);
        // 519888 is 7EED0: three bytes, left-aligned; humidity word 6E00.
        Convert.FromHexString("8000007eed006e00").CopyTo(chip.Registers, 0xF7);
        chip.Then = register =>
        {
            if (register == 0xF4)
                chip.Registers[0xF4] &= 0xFC;   // measured at once, asleep again
        };
        return chip;
    }

    [Fact]
    public void A_bme280_is_reset_known_read_out_told_humidity_before_temperature_and_collected()
    {
        var chip = Bme280();
        var (plan, inputs) = chip.Plan(ChipRig.Chip("air", "bme280", "0x76"), 0, Air);
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.5);
            Assert.Equal(["e0b6", "d0", "f3", "88", "e1", "88", "e1", "f201", "f421", "f2"], chip.Written);
            Assert.Equal(25.08, RegisterChip.Samples(inputs)[0].Value, 0.005);
            Assert.Equal(HumidityByHand(0x6E00, 128422), RegisterChip.Samples(inputs)[1].Value, 0.02);
            RegisterChip.Run(plan, 5, 5.5);
            Assert.Equal(["f201", "f421", "f2"], chip.Written.Skip(10));
        }
    }

    /// <summary>The data sheet's formula in whole numbers of 32 bits, with the numbers of <see cref="Bme280"/> set in.</summary>
    private static double HumidityByHand(int raw, int fine)
    {
        var v = fine - 76800;
        v = ((raw << 14) - (313 << 20) - 50 * v + 16384 >> 15) * (((((v * 30 >> 10) * 32768 >> 10) + 2097152) * 370 + 8192) >> 14);
        return (v - (((v >> 15) * (v >> 15) >> 7) * 75 >> 4) >> 12) / 1024.0;
    }

    [Theory]
    [InlineData(0xD0, 0x58, "another chip")]      // the sister chip without humidity
    [InlineData(0x88, 0x00, null)]
    [InlineData(0xF2, 0x00, null)]
    public void A_bme280_whose_registers_cannot_be_gives_no_value(int register, byte value, string? words)
    {
        var chip = Bme280();
        chip.Registers[0x89] = register == 0x88 ? (byte)0 : chip.Registers[0x89];
        chip.Registers[register] = value;
        var then = chip.Then!;
        chip.Then = written =>
        {
            then(written);
            chip.Registers[register] = value;
        };
        var (plan, inputs) = chip.Plan(ChipRig.Chip("air", "bme280", "0x76"), 0, Air);
        using (plan)
        {
            RegisterChip.Run(plan, 0, 5);
            Assert.Equal((Fault.BusError, Fault.BusError), (RegisterChip.Samples(inputs)[0].Fault, RegisterChip.Samples(inputs)[1].Fault));
            Assert.Contains(words ?? "wires are disturbed", plan.Workers[0].Devices[0].Health.LastProblem, StringComparison.Ordinal);
        }
    }

    /// <summary>Trimming numbers that come out different at the second reading would spoil every value until the next start.</summary>
    [Fact]
    public void A_bme280_whose_trimming_came_disturbed_is_not_believed()
    {
        var chip = Bme280();
        var reads = 0;
        var then = chip.Then!;
        chip.Then = written =>
        {
            then(written);
            if (chip.Written[^1] == "88")
                chip.Registers[0x8A] = (byte)(0x43 ^ (reads++ == 1 ? 0x10 : 0));
        };
        var (plan, inputs) = chip.Plan(ChipRig.Chip("air", "bme280", "0x76"), 0, Air);
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.5);
            Assert.Equal(Fault.BusError, RegisterChip.Samples(inputs)[0].Fault);
            Assert.Contains("different twice", plan.Workers[0].Devices[0].Health.LastProblem, StringComparison.Ordinal);
            RegisterChip.Run(plan, 0.5, 4);
            Assert.Equal(25.08, RegisterChip.Samples(inputs)[0].Value, 0.005);
        }
    }

    // 30 % at −3700, 70 % at −10800; 20 °C at 300, 40 °C at 1550 (by hand): halfway between the words is 50 % and 30 °C.
    [Theory]
    [InlineData(-7250, 925, 50, 30)]
    [InlineData(-3700, 300, 30, 20)]
    [InlineData(-10800, 1550, 70, 40)]
    [InlineData(1625, -950, 0, 0)]
    public void An_hts221_goes_by_the_line_through_its_two_points(short humidity, short temperature, double percent, double degrees)
    {
        var chip = new RegisterChip { HighBitIsOnward = true };
        (chip.Registers[0x0F], chip.Registers[0x27]) = (0xBC, 3);
        Convert.FromHexString("3c8ca0400004" + "8cf1" + "0000" + "d0d5" + "2c01" + "0e06").CopyTo(chip.Registers, 0x30);
        (chip.Registers[0x28], chip.Registers[0x29], chip.Registers[0x2A], chip.Registers[0x2B]) = ((byte)humidity, (byte)(humidity >> 8), (byte)temperature, (byte)(temperature >> 8));
        var (plan, inputs) = chip.Plan(ChipRig.Chip("air", "hts221", "0x5f"), 0, Air);
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.5);
            Assert.Equal(["2180", "0f", "b0", "b0", "101b", "2084", "2101", "a0"], chip.Written);
            Assert.Equal((degrees, percent), (Math.Round(RegisterChip.Samples(inputs)[0].Value, 6), Math.Round(RegisterChip.Samples(inputs)[1].Value, 6)));
        }
    }

    /// <summary>
    /// The data sheet's own examples (from memory; their checksums fit): altitude 1950 m is 079e 09; 500 ppm, 25 °C, 37 % are 01f4 33, 6667 a2, 5eb9 3c.
    /// </summary>
    [Fact]
    public void An_scd4x_is_stopped_told_the_altitude_started_asked_and_read()
    {
        var chip = new RegisterChip();
        byte[] notYet = [0x80, 0x00, Crc8.Of([0x80, 0x00])], ready = [0x80, 0x06, Crc8.Of([0x80, 0x06])];
        foreach (var answer in (byte[][])[notYet, ready, Convert.FromHexString("01f4336667a25eb93c"), notYet, notYet, notYet])
            chip.Answers.Enqueue(answer);
        var (plan, inputs) = chip.Plan(ChipRig.Chip("air", "scd4x", "0x62"), 1950, [.. Air, CarbonDioxide]);
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.4);
            Assert.Equal(["3f86"], chip.Written);
            RegisterChip.Run(plan, 0.4, 7);
            Assert.Equal(["3f86", "2427079e09", "21b1", "e4b8", "e4b8", "ec05"], chip.Written.Take(6));
            var samples = RegisterChip.Samples(inputs);
            Assert.Equal((25.0, 37.0, 500.0), (Math.Round(samples[0].Value, 2), Math.Round(samples[1].Value, 1), samples[2].Value));
        }
    }

    [Theory]
    [InlineData(2, 2)]
    [InlineData(5, 0)]
    [InlineData(8, 1)]
    public void A_word_of_an_scd4x_with_a_wrong_checksum_is_missing_by_itself(int spoilt, int input)
    {
        var chip = new RegisterChip();
        byte[] ready = [0x80, 0x06, Crc8.Of([0x80, 0x06])], notYet = [0x80, 0x00, Crc8.Of([0x80, 0x00])], answer = Convert.FromHexString("01f4336667a25eb93c");
        answer[spoilt] ^= 1;
        foreach (var one in (byte[][])[ready, answer, notYet, notYet])
            chip.Answers.Enqueue(one);
        var (plan, inputs) = chip.Plan(ChipRig.Chip("air", "scd4x", "0x62"), 0, [.. Air, CarbonDioxide]);
        using (plan)
        {
            RegisterChip.Run(plan, 0, 6);
            for (var i = 0; i < 3; i++)
                Assert.Equal((i, i == input ? Fault.Crc : Fault.None), (i, RegisterChip.Samples(inputs)[i].Fault));
        }
    }
}
