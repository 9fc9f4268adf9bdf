package unitschecks

import (
	"database/sql"
	"testing"

	_ "modernc.org/sqlite"

	"example.com/snugturn/units"
)

// A pure-Go driver stores and returns quantities and temperatures with their places and units.
func TestSQL(t *testing.T) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec(`CREATE TABLE service (torque TEXT, fuel TEXT, number REAL)`); err != nil {
		t.Fatal(err)
	}
	torque, fuel := units.MustParseTorque("12.50 N·m"), units.MustParseTemperature("60.0 °F")
	if _, err := db.Exec(`INSERT INTO service VALUES (?, ?, 12.5)`, torque, fuel); err != nil {
		t.Fatal(err)
	}
	var backTorque units.Torque
	var backFuel units.Temperature
	if err := db.QueryRow(`SELECT torque, fuel FROM service WHERE torque = ?`, torque).Scan(&backTorque, &backFuel); err != nil {
		t.Fatal(err)
	}
	if backTorque.String() != "12.50 N·m" || backFuel.String() != "60.0 °F" {
		t.Errorf("came back as %v and %v", backTorque, backFuel)
	}
	if err := db.QueryRow(`SELECT number FROM service`).Scan(&backTorque); err == nil {
		t.Error("a bare number was read")
	}
	if err := db.QueryRow(`SELECT NULL`).Scan(&backTorque); err == nil {
		t.Error("NULL was read")
	}
	if backTorque.String() != "12.50 N·m" {
		t.Errorf("a failed read left %v", backTorque)
	}
	var perhaps sql.Null[units.Torque]
	if err := db.QueryRow(`SELECT NULL`).Scan(&perhaps); err != nil || perhaps.Valid {
		t.Errorf("%v, %v", perhaps, err)
	}
	if err := db.QueryRow(`SELECT torque FROM service`).Scan(&perhaps); err != nil || perhaps.V.String() != "12.50 N·m" {
		t.Errorf("%v, %v", perhaps, err)
	}
	if _, err := db.Exec(`INSERT INTO service (torque) VALUES (?)`, units.TorqueUnit(99).Of(1)); err == nil {
		t.Error("an invalid unit was stored")
	}
}
