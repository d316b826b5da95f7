// setup on made-up boards: what is off gets its line, what is there is named; files of a stick are taken only when they are sound, a site is never
// overwritten, the household's answer goes back to the stick.
using RoomSupervisor.Hardware;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.House.Tests.Board;

public sealed class SetupTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("setup-");

    private string Stick => Path.Combine(folder.FullName, "media", "stick");

    private string Site => Path.Combine(folder.FullName, "site");

    private string Household => Path.Combine(Site, "household.yaml");

    public SetupTests()
    {
        Directory.CreateDirectory(Stick);
        Directory.CreateDirectory(Site);
    }

    public void Dispose() => folder.Delete(true);

    private void Put(string path, string text = "")
    {
        var full = Path.Combine(folder.FullName, path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        File.WriteAllText(full, text);
    }

    private static void Copy(string from, string to)
    {
        foreach (var name in new[] { "site.yaml", "household.yaml" })
            File.Copy(Root.At("config", from, name), Path.Combine(to, name));
    }

    [Fact]
    public void A_bare_board_is_told_every_line_with_its_file()
    {
        Put("boot/firmware/config.txt");
        var all = new BoardLook(folder.FullName).All();
        Assert.All(all, one => Assert.NotEmpty(one.ToDo));
        string ToDo(string name) => all.Single(one => one.Name == name).ToDo;
        Assert.Contains("dtparam=i2c_arm=on to /boot/firmware/config.txt", ToDo("I2C"), StringComparison.Ordinal);
        Assert.Contains("dtoverlay=w1-gpio to /boot/firmware/config.txt", ToDo("1-Wire"), StringComparison.Ordinal);
        Assert.Contains("enable_uart=1", ToDo("serial"), StringComparison.Ordinal);
        Assert.Contains("dtoverlay=pwm-2chan", ToDo("PWM"), StringComparison.Ordinal);
        Assert.Contains("dtparam=watchdog=on", ToDo("watchdog"), StringComparison.Ordinal);
        Assert.Contains("apt install tzdata", ToDo("time zones"), StringComparison.Ordinal);
    }

    [Fact]
    public void An_older_boards_boot_file_is_named_where_it_lies()
    {
        Put("boot/config.txt");
        Assert.Contains("to /boot/config.txt", new BoardLook(folder.FullName).WireBus().ToDo, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_there_is_named_and_nothing_is_to_do()
    {
        foreach (var path in new[] { "dev/i2c-1", "dev/ttyAMA0", "dev/serial/by-id/usb-adapter", "dev/gpiochip0", "dev/watchdog", "sys/bus/w1/devices/w1_bus_master1", "sys/class/pwm/pwmchip0", "usr/share/zoneinfo/UTC" })
            Put(path);
        Put("proc/cmdline", "console=tty1 root=/dev/mmcblk0p2 rootwait\n");
        var all = new BoardLook(folder.FullName).All();
        Assert.All(all, one => Assert.Equal("", one.ToDo));
        Assert.Equal(["/dev/i2c-1"], all[0].Found);
        Assert.Equal(["/dev/serial/by-id/usb-adapter", "/dev/ttyAMA0"], all.Single(one => one.Name == "serial").Found);
    }

    [Fact]
    public void A_console_on_the_serial_pins_is_told_of()
    {
        Put("dev/ttyAMA0");
        Put("boot/firmware/config.txt");
        Put("proc/cmdline", "console=serial0,115200 console=tty1\n");
        Assert.Contains("take console=serial0,115200 out of /boot/firmware/cmdline.txt", new BoardLook(folder.FullName).Serial().ToDo, StringComparison.Ordinal);
    }

    [Fact]
    public void A_stick_with_a_site_is_found_and_taken()
    {
        Copy("one-room", Stick);
        Assert.Equal(["/media/stick"], new BoardLook(folder.FullName).Sticks());
        Assert.True(StickFiles.TakeSite(Stick, Site, Drivers.All).IsTaken);
        Assert.Equal(File.ReadAllText(Path.Combine(Stick, "site.yaml")), File.ReadAllText(Path.Combine(Site, "site.yaml")));
        Assert.True(OperatingSystem.IsWindows() || (File.GetUnixFileMode(Household) & UnixFileMode.GroupWrite) != 0);
    }

    [Fact]
    public void A_site_with_errors_is_not_taken_and_a_site_that_is_there_stays()
    {
        Copy("one-room", Stick);
        File.AppendAllText(Path.Combine(Stick, "site.yaml"), "nonsense: 1\n");
        var refused = StickFiles.TakeSite(Stick, Site, Drivers.All);
        Assert.False(refused.IsTaken);
        Assert.Contains(refused.Lines, line => line.Contains("nonsense", StringComparison.Ordinal));
        Assert.Empty(Directory.GetFiles(Site));

        Copy("coil-only", Site);
        File.Copy(Root.At("config", "one-room", "site.yaml"), Path.Combine(Stick, "site.yaml"), true);
        Assert.False(StickFiles.TakeSite(Stick, Site, Drivers.All).IsTaken);
        Assert.Equal(File.ReadAllText(Root.At("config", "coil-only", "site.yaml")), File.ReadAllText(Path.Combine(Site, "site.yaml")));
    }

    [Fact]
    public void The_network_folder_lets_nobody_in_without_a_name_and_shows_the_households_file_only()
    {
        Dictionary<string, string> all = [];   // smb.conf(5): [section] and key = value, "#" begins a remark
        var section = "";
        foreach (var line in File.ReadAllLines(Root.At("deploy", "share.conf")).Select(line => line.Trim()).Where(line => line.Length > 0 && line[0] != '#'))
        {
            if (line[0] == '[')
                section = line.Trim('[', ']');
            else
                all.Add($"{section}: {line[..line.IndexOf('=', StringComparison.Ordinal)].Trim()}", line[(line.IndexOf('=', StringComparison.Ordinal) + 1)..].Trim());
        }
        Assert.Equal(["global", "household"], all.Keys.Select(key => key.Split(':')[0]).Distinct());
        Assert.Equal("never", all["global: map to guest"]);
        Assert.Equal("no", all["household: guest ok"]);
        Assert.Equal("@room-supervisor", all["household: valid users"]);
        Assert.Equal("/etc/room-supervisor", all["household: path"]);
        foreach (var hidden in (string[])["site.yaml*", "building.yaml*", "checkout", ".site*"])
            Assert.Contains($"/{hidden}/", all["household: veto files"], StringComparison.Ordinal);
        Assert.DoesNotContain("household.yaml", all["household: veto files"], StringComparison.Ordinal);
        Assert.DoesNotContain(all.Keys, key => key.Contains("passw", StringComparison.Ordinal) || key.Contains("guest account", StringComparison.Ordinal) || key.Contains("public", StringComparison.Ordinal));
    }

    [Fact]
    public void A_household_file_is_taken_and_the_controllers_answer_goes_back_to_the_stick()
    {
        Copy("one-room", Site);
        File.WriteAllText(Path.Combine(Stick, "household.yaml"), "rooms:\n  weaving-room:\n    cool_above: 23 °C\n");
        var looks = 0;
        var outcome = StickFiles.TakeHousehold(Stick, Site, _ =>
        {
            if (++looks == 3)
                File.WriteAllText(Path.Combine(Site, "household.answer.txt"), "accepted");
            return true;
        });
        Assert.True(outcome.IsTaken);
        Assert.Equal(3, looks);
        Assert.Contains("23 °C", File.ReadAllText(Household), StringComparison.Ordinal);
        Assert.Equal("accepted", File.ReadAllText(Path.Combine(Stick, "household.answer.txt")));
    }

    [Fact]
    public void Where_nobody_answers_the_stick_says_so()
    {
        Copy("one-room", Site);
        File.WriteAllText(Path.Combine(Stick, "household.yaml"), "rooms: {}\n");
        var waitedS = 0.0;
        Assert.True(StickFiles.TakeHousehold(Stick, Site, seconds => (waitedS += seconds) > 0).IsTaken);
        Assert.Equal(15, waitedS, 6);
        Assert.Contains("no controller has answered", File.ReadAllText(Path.Combine(Stick, "household.answer.txt")), StringComparison.Ordinal);
        // The same file again changes nothing and waits for nothing.
        Assert.False(StickFiles.TakeHousehold(Stick, Site, _ => throw new InvalidOperationException("waited")).IsTaken);
    }
}
