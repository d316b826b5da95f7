// What the house of stand-ins needs of one device: values at its channels, faults, the time. The driver sees only its bytes.
// Must never have a clock or a thread, and never allocate once it is built.
namespace RoomSupervisor.VirtualHouse;

/// <summary>A device in memory that answers its driver's bytes.</summary>
internal abstract class StandIn
{
    private BusFault _fault;

    /// <summary>What is wrong with it.</summary>
    public BusFault Fault
    {
        get => _fault;
        set
        {
            if (value == BusFault.Absent && _fault != BusFault.Absent) LosePower();
            _fault = value;
            Changed();
        }
    }

    /// <summary>True when the device can have such a fault: a converter that sends nothing has no checksum to spoil.</summary>
    public virtual bool CanHave(BusFault fault) => true;

    /// <summary>Number of a channel for <see cref="Put"/> and <see cref="Get"/>.</summary>
    public abstract int ChannelOf(string name);

    /// <summary>What a channel measures from now on, in the unit of the channel; not a number: the sensor itself is broken.</summary>
    public abstract void Put(int channel, double value);

    /// <summary>What a channel puts out, in the unit of the channel.</summary>
    public abstract double Get(int channel);

    /// <summary>True when what a channel puts out is volts.</summary>
    public virtual bool CarriesVolts(int channel) => false;

    /// <summary>True when what a channel puts out is a share of a pulse, which a converter makes volts of for what follows a voltage.</summary>
    public virtual bool CarriesPulses => false;

    /// <summary>An output stays as it is whatever is written: a short, an overload, somebody else who writes. Only devices that can be read back.</summary>
    /// <exception cref="NotSupportedException">The device cannot be read back.</exception>
    public virtual void Jam(int channel, bool jammed) => throw new NotSupportedException("nobody could tell: such a device is not read back");

    /// <summary>The time goes on.</summary>
    public virtual void At(double nowS)
    {
    }

    /// <summary>The fault is another one now.</summary>
    protected virtual void Changed()
    {
    }

    /// <summary>Outputs fall to 0, what was begun is forgotten.</summary>
    protected abstract void LosePower();
}
