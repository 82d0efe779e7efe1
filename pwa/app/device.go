package app

import (
	"crypto/subtle"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

// openLinks are secrets that are shown while their page is open and kept nowhere.
type openLinks struct {
	pairing  *DevicePairing
	recovery string // the code that was made last, until it is confirmed
}

func (a *App) nameDevice(args DeviceName) *Error {
	if err := text("name", &args.Name, mostName, true); err != nil {
		return err
	}
	device := oplog.DeviceID(a.replica.Device().Sign)
	return a.write(a.notebook(), deviceDoc(device), partDevice, replica.UnderEpoch, deviceContent(args))
}

func (a *App) pairDevice(DevicePair) (DevicePairing, *Error) {
	secret, ticket, fault := a.replica.Pair(a.now)
	if err := a.wait(ticket, fault); err != nil {
		return DevicePairing{}, err
	}
	invite, fault := seal.ParseInvite(secret)
	if fault != nil {
		return DevicePairing{}, asError(fault)
	}
	pairing := DevicePairing{Link: a.link("pair", secret), Text: secret}
	if state := a.replica.Ahead(a.notebook()); state != nil {
		if info, ok := state.Invite(oplog.DeviceID(invite.Public())); ok {
			pairing.Expires = info.Body.Expires
		}
	}
	a.links.pairing = &pairing
	a.watches.touch(needState)
	return pairing, nil
}

// pairing is the open pairing, until it was used or its time is over.
func (a *App) pairing() *DevicePairing {
	p := a.links.pairing
	if p == nil {
		return nil
	}
	invite, err := seal.ParseInvite(p.Text)
	state := a.replica.Ahead(a.notebook())
	if err != nil || state == nil || state.InviteOpen(oplog.DeviceID(invite.Public()), a.serverNow()) != nil {
		a.links.pairing = nil
		return nil
	}
	return p
}

func (a *App) removeDevice(args DeviceRemove) *Error {
	device, err := id[oplog.DeviceID]("device", args.Device)
	if err != nil {
		return err
	}
	if device == oplog.DeviceID(a.replica.Device().Sign) {
		return &Error{Code: "not-yourself", Field: "device", Text: "this is the device in your hand", Hint: "remove it with another one of yours"}
	}
	for _, d := range a.ownDevices() {
		if d.Sign == device {
			return a.wait(a.replica.RemoveDevice(a.now, device))
		}
	}
	return unknown("device")
}

// ownDevices are the installations in the notebook, without recovery devices.
func (a *App) ownDevices() (out []club.DeviceInfo) {
	state := a.replica.Ahead(a.notebook())
	if state == nil {
		return nil
	}
	for _, m := range state.Members() {
		for _, d := range m.Devices {
			if d.In() && !d.Recovery {
				out = append(out, d)
			}
		}
	}
	return out
}

func (a *App) makeRecovery(Nothing) (RecoveryMade, *Error) {
	code, ticket, fault := a.replica.RecoveryCode(a.now)
	if err := a.wait(ticket, fault); err != nil {
		return RecoveryMade{}, err
	}
	a.links.recovery = code
	err := a.write(a.notebook(), settingsDoc, partRecovery, replica.UnderEpoch, recoveryContent{At: a.now})
	return RecoveryMade{Code: code, Link: a.link("recover", code)}, err
}

// confirmRecovery takes the code's last group, typed from the paper. The code itself is forgotten then; after a restart it is
// forgotten anyway, and a new one must be made.
func (a *App) confirmRecovery(args RecoveryConfirm) *Error {
	if a.links.recovery == "" {
		return &Error{Code: CodeNotYet, Text: "the code is not at hand any more", Hint: "make a new one"}
	}
	last := a.links.recovery[strings.LastIndexByte(a.links.recovery, '-')+1:]
	typed := strings.ToUpper(strings.TrimSpace(args.Last))
	if subtle.ConstantTimeCompare([]byte(typed), []byte(last)) == 0 {
		return refuse("code-damaged", "last", "this is not the code's last group")
	}
	at := a.now
	var content recoveryContent
	switch a.read(a.notebook(), a.mine(a.notebook(), settingsDoc, partRecovery), &content) {
	case replica.BodyLoading:
		return errReading
	case replica.BodyReady:
		at = content.At
	}
	err := a.write(a.notebook(), settingsDoc, partRecovery, replica.UnderEpoch, recoveryContent{At: at, Confirmed: true})
	if err == nil {
		a.links.recovery = ""
	}
	return err
}

func (a *App) recover(args Recover) (ClubJoining, *Error) {
	host, err := a.hostOf(args.Code, "code")
	if err != nil {
		return ClubJoining{}, err
	}
	if _, fault := seal.ParseRecovery(args.Code); fault != nil {
		return ClubJoining{}, withField(asError(fault), "code")
	}
	if err := a.wait(a.replica.Recover(a.now, args.Code, host)); err != nil {
		return ClubJoining{}, withField(err, "code")
	}
	return ClubJoining{Joining: joiningRecovery}, nil
}

func (a *App) lookDevices(Nothing) (DevicesView, *Error) {
	v := DevicesView{Joining: a.joining(), Pairing: a.pairing()}
	here := oplog.DeviceID(a.replica.Device().Sign)
	for _, d := range a.ownDevices() {
		device := a.describeDevice(d.Sign, here)
		if device.This {
			v.Devices = append([]Device{device}, v.Devices...)
		} else {
			v.Devices = append(v.Devices, device)
		}
	}
	v.Recovery = a.recovery()
	return v, nil
}

func (a *App) describeDevice(id, here oplog.DeviceID) Device {
	var content deviceContent
	a.read(a.notebook(), a.mine(a.notebook(), deviceDoc(id), partDevice), &content)
	device := Device{Device: id.String(), Name: content.Name, This: id == here}
	for _, c := range a.clubs() {
		if !c.in() {
			continue
		}
		if _, ok := c.State.MemberOf(id); ok {
			device.Clubs++
		} else {
			device.Missing++
		}
	}
	return device
}

// recovery says where the code stands: what was noted about it, if such a device is enrolled at all.
func (a *App) recovery() (r Recovery) {
	state := a.replica.Ahead(a.notebook())
	if state == nil {
		return r
	}
	for _, m := range state.Members() {
		for _, d := range m.Devices {
			r.Made = r.Made || d.In() && d.Recovery
		}
	}
	var content recoveryContent
	a.read(a.notebook(), a.mine(a.notebook(), settingsDoc, partRecovery), &content)
	if r.Made {
		r.At, r.Confirmed = content.At, content.Confirmed
	}
	return r
}
