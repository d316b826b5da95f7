// The SHT4x driver's own bytes: command, waiting, checksum, conversion, and what each failure says. Virtual time.
// Sources: data sheet of the SHT4x family (command FD, 8.3 ms, T = −45 + 175·S/65535, RH = −6 + 125·S/65535, checksum of BE EF is 92).
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

public class Sht4xTests
{
    [Fact]
    public void The_checksum_of_the_data_sheet_s_example_is_92() => Assert.Equal(0x92, Crc8.Of([0xBE, 0xEF]));

    [Fact]
    public void It_is_begun_with_FD_and_collected_when_it_must_be_ready_and_not_before()
    {
        using var rig = new ChipRig();
        rig.Worker.Poll(1);
        Assert.Equal(["44: fd"], rig.WrittenTo(ChipRig.Hall));
        Assert.Equal(Fault.NotRead, rig.Sample(0).Fault);
        Assert.InRange(rig.Worker.NextDueS, 1.0083, 1.02);
        rig.Worker.Poll(1.008);
        Assert.Equal(Fault.NotRead, rig.Sample(0).Fault);
        rig.Worker.Poll(1.02);
        Assert.Equal((Fault.None, 1.0), (rig.Sample(0).Fault, rig.Sample(0).TakenAtS));
    }

    // 0x6666 is 0.4 of the whole: 25 °C and 44 %. 0x0000 is −45 °C and below nought, 0xFFFF 130 °C and above a hundred.
    [Theory]
    [InlineData(0x6666, 0x6666, 25, 44)]
    [InlineData(0x0000, 0x0000, -45, 0)]
    [InlineData(0xFFFF, 0xFFFF, 130, 100)]
    [InlineData(0x5F5C, 0x8312, 20.19, 58.0)]
    public void Words_become_degrees_and_percent(int temperature, int humidity, double degrees, double percent)
    {
        using var rig = new ChipRig();
        rig.Bus.Answers[ChipRig.Hall] = ChipRig.Words(temperature, humidity);
        rig.Run(0, 0.1);
        Assert.Equal(degrees, rig.Sample(0).Value, 2);
        Assert.Equal(percent, rig.Sample(1).Value, 1);
    }

    /// <summary>SHT3x: data sheet of that family, command 24 00, 15.5 ms, RH = 100·S/65535.</summary>
    [Fact]
    public void The_older_family_has_its_own_command_time_and_line()
    {
        using var rig = new ChipRig(family: "sht3x");
        rig.Worker.Poll(1);
        Assert.Equal(["44: 2400"], rig.WrittenTo(ChipRig.Hall));
        Assert.InRange(rig.Worker.NextDueS, 1.0155, 1.03);
        rig.Run(1, 1.1);
        Assert.Equal((25, 40), (Math.Round(rig.Sample(0).Value, 2), Math.Round(rig.Sample(1).Value, 2)));
    }

    [Fact]
    public void It_keeps_its_own_interval()
    {
        using var rig = new ChipRig(intervalS: 2);
        rig.Run(0, 10.5);
        Assert.Equal([0, 2, 4, 6, 8, 10], rig.Bus.Written.Where(one => one.Text == "44: fd").Select(one => (int)Math.Round(one.AtS)));
        Assert.Equal((6L, 0L), (rig.Health(0).Requests, rig.Health(0).Failures));
        Assert.Equal(0.0006, rig.Health(0).LastLatencyS, 6);
    }

    [Theory]
    [InlineData(2, Fault.Crc, Fault.None)]
    [InlineData(5, Fault.None, Fault.Crc)]
    public void A_word_with_a_wrong_checksum_is_missing_by_itself(int spoilt, Fault temperature, Fault humidity)
    {
        using var rig = new ChipRig();
        rig.Bus.Answers[ChipRig.Hall][spoilt] ^= 1;
        rig.Run(0, 0.1);
        Assert.Equal((temperature, humidity), (rig.Sample(0).Fault, rig.Sample(1).Fault));
        Assert.Equal(DeviceState.Answering, rig.Health(0).State);
    }

    /// <summary>Every bit of the six bytes, turned: never a value from a word that was touched.</summary>
    [Fact]
    public void No_turned_bit_gets_through()
    {
        for (var bit = 0; bit < 48; bit++)
        {
            using var rig = new ChipRig();
            rig.Bus.Answers[ChipRig.Hall][bit / 8] ^= (byte)(1 << (bit % 8));
            rig.Run(0, 0.1);
            Assert.Equal(Fault.Crc, rig.Sample(bit < 24 ? 0 : 1).Fault);
            Assert.Equal(Fault.None, rig.Sample(bit < 24 ? 1 : 0).Fault);
        }
    }

    [Theory]
    [InlineData(I2cProblem.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData(I2cProblem.TimedOut, Fault.Timeout, "held low")]
    [InlineData(I2cProblem.CutShort, Fault.BusError, "cut short")]
    [InlineData(I2cProblem.NoBus, Fault.BusError, "no such bus")]
    [InlineData(I2cProblem.NotAllowed, Fault.BusError, "permission")]
    [InlineData(I2cProblem.ArbitrationLost, Fault.BusError, "another master")]
    public void Every_failure_has_its_own_words_and_leaves_the_neighbour_alone(I2cProblem problem, Fault fault, string words)
    {
        using var rig = new ChipRig(intervalS: 1);
        rig.Run(0, 2);
        rig.Bus.Problems[ChipRig.Hall] = problem;
        rig.Run(2, 20);
        Assert.Equal((fault, fault), (rig.Sample(0).Fault, rig.Sample(1).Fault));
        Assert.Equal((DeviceState.NotAnswering, fault), (rig.Health(0).State, rig.Health(0).LastFault));
        Assert.Contains(words, rig.Health(0).LastProblem, StringComparison.Ordinal);
        Assert.Equal((DeviceState.Answering, 0L), (rig.Health(1).State, rig.Health(1).Failures));
        Assert.InRange(rig.Sample(2).TakenAtS, 18.5, 20);
        rig.Bus.Problems.Clear();
        rig.Run(20, 60);
        Assert.Equal((DeviceState.Answering, Fault.None), (rig.Health(0).State, rig.Sample(0).Fault));
    }

    [Fact]
    public void Pauses_grow_to_their_longest_while_nobody_answers()
    {
        using var rig = new ChipRig(intervalS: 1);
        rig.Bus.Problems[ChipRig.Hall] = I2cProblem.NoAcknowledge;
        rig.Run(0, 200);
        // 0, 1, 3, 7, 15, 31, then every 30 s.
        Assert.Equal(11, rig.Health(0).Requests);
        Assert.Equal(rig.Health(0).Requests, rig.Health(0).Failures);
    }

    [Fact]
    public void One_lost_measurement_is_missing_but_no_outage()
    {
        using var rig = new ChipRig(intervalS: 1);
        rig.Run(0, 0.5);
        rig.Bus.Problems[ChipRig.Hall] = I2cProblem.NoAcknowledge;
        rig.Worker.Poll(1.0);
        rig.Bus.Problems.Clear();
        Assert.Equal((Fault.NoAcknowledge, DeviceState.Answering), (rig.Sample(0).Fault, rig.Health(0).State));
        rig.Run(1.1, 3);
        Assert.Equal(Fault.None, rig.Sample(0).Fault);
    }
}
