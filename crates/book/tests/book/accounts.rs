//! Accounts, sessions and the record of who signed in.

use book::{BookError, Person, Role, SignInOutcome};

use crate::both::{at, on_both, owner};

const PASSWORD: &str = "weir yard at dawn";

#[test]
fn the_first_run_makes_the_owner_and_only_one() {
    on_both(async |bench| {
        let book = bench.book().await;
        assert!(book.is_first_run().await.unwrap());
        let refused = book.make_owner("Morwen", "short", at(0)).await.unwrap_err().to_string();
        assert!(refused.contains("accepted: at least 10 characters"), "{refused}");
        let account = book.make_owner(" Morwen Ostrey ", PASSWORD, at(0)).await.unwrap();
        assert_eq!((account.name.as_str(), account.role, account.active), ("Morwen Ostrey", Role::Owner, true));
        assert!(!book.is_first_run().await.unwrap());
        assert!(book.make_owner("Another", PASSWORD, at(0)).await.is_err());
        let taken = book.make_account("MORWEN  ostrey", PASSWORD, Role::Desk, &owner(), at(1)).await.unwrap_err();
        assert!(taken.to_string().contains("accepted: another name"), "{taken}");
        let desk = Person::new("Wenna Tarrow", Role::Desk);
        assert!(matches!(
            book.make_account("x", PASSWORD, Role::Desk, &desk, at(1)).await,
            Err(BookError::NotAllowed { .. })
        ));
    });
}

#[test]
fn one_signs_in_stays_in_and_signs_out() {
    on_both(async |bench| {
        let book = bench.book().await;
        let account = book.make_owner("Morwen Ostrey", PASSWORD, at(0)).await.unwrap();
        let wrong = book.sign_in("Morwen Ostrey", "weir yard at dusk", "::1", at(1)).await.unwrap_err().to_string();
        let nobody = book.sign_in("Nobody", PASSWORD, "::1", at(1)).await.unwrap_err().to_string();
        assert_eq!(wrong, nobody);
        let session = book.sign_in("morwen ostrey", PASSWORD, "::1", at(2)).await.unwrap();
        assert_eq!(session.account, account);
        assert_eq!(session.account.person(), owner());
        // Every page within twelve hours keeps the session alive, for a week at most.
        let mut minutes = 2;
        while minutes < 7 * 24 * 60 {
            assert_eq!(book.session(&session.token, at(minutes)).await.unwrap().as_ref(), Some(&account), "{minutes}");
            minutes += 11 * 60;
        }
        assert_eq!(book.session(&session.token, at(7 * 24 * 60 + 3)).await.unwrap(), None);

        let session = book.sign_in("Morwen Ostrey", PASSWORD, "::1", at(20_000)).await.unwrap();
        assert_eq!(book.session(&session.token, at(20_000 + 12 * 60)).await.unwrap(), None);
        let session = book.sign_in("Morwen Ostrey", PASSWORD, "::1", at(30_000)).await.unwrap();
        book.sign_out(&session.token, "::1", at(30_001)).await.unwrap();
        assert_eq!(book.session(&session.token, at(30_002)).await.unwrap(), None);
        assert_eq!(book.session("0", at(30_002)).await.unwrap(), None);

        let outcomes: Vec<SignInOutcome> =
            book.sign_ins(10, &owner()).await.unwrap().into_iter().map(|one| one.outcome).collect();
        use SignInOutcome::{SignedIn, SignedOut, Wrong};
        assert_eq!(outcomes, [SignedOut, SignedIn, SignedIn, SignedIn, Wrong, Wrong]);
        assert!(book.sign_ins(10, &Person::new("Wenna", Role::Desk)).await.is_err());
    });
}

#[test]
fn guessing_passwords_has_to_wait() {
    on_both(async |bench| {
        let book = bench.book().await;
        book.make_owner("Morwen Ostrey", PASSWORD, at(0)).await.unwrap();
        for _ in 0..10 {
            assert!(book.sign_in("Morwen Ostrey", "wrong", "::1", at(1)).await.is_err());
        }
        let refused = book.sign_in("Morwen Ostrey", PASSWORD, "::1", at(2)).await.unwrap_err().to_string();
        assert!(refused.contains("accepted: another attempt in a quarter of an hour"), "{refused}");
        book.sign_in("Morwen Ostrey", PASSWORD, "::1", at(17)).await.unwrap();
    });
}

/// Somebody who knows the owner's name cannot keep the owner out by wrong passwords, from however many places.
#[test]
fn wrong_passwords_from_elsewhere_shut_nobody_out_of_where_they_always_sign_in() {
    on_both(async |bench| {
        let book = bench.book().await;
        book.make_owner("Morwen Ostrey", PASSWORD, at(0)).await.unwrap();
        let sign_in = async |password: &str, address: &str, minute| {
            book.sign_in("Morwen Ostrey", password, address, at(minute)).await
        };
        sign_in(PASSWORD, "203.0.113.7", 1).await.unwrap();
        sign_in(PASSWORD, "2001:db8:0:1::5", 1).await.unwrap();
        // Ten from one address, and that address waits, with the right password too; every other one goes on.
        for _ in 0..10 {
            assert!(sign_in("wrong", "198.51.100.1", 2).await.is_err());
        }
        let refused = sign_in(PASSWORD, "198.51.100.1", 3).await.unwrap_err().to_string();
        assert!(refused.contains("in a quarter of an hour"), "{refused}");
        sign_in(PASSWORD, "198.51.100.2", 3).await.unwrap();
        // A hundred from many addresses, and the name waits wherever it is not known...
        for from in 10..19 {
            for _ in 0..10 {
                assert!(sign_in("wrong", &format!("198.51.100.{from}"), 4).await.is_err());
            }
        }
        let refused = sign_in(PASSWORD, "192.0.2.1", 5).await.unwrap_err().to_string();
        assert!(refused.contains("in a quarter of an hour"), "{refused}");
        // ...and goes on where its owner has signed in before, an address of the new kind by its first half.
        sign_in(PASSWORD, "203.0.113.7", 5).await.unwrap();
        sign_in(PASSWORD, "2001:db8:0:1:9::1", 5).await.unwrap();
        assert!(sign_in(PASSWORD, "2001:db8:0:2::5", 5).await.is_err());
        // Guessing from there is held up as well, and still does not shut anybody out for long.
        for _ in 0..10 {
            assert!(sign_in("wrong", "203.0.113.7", 6).await.is_err());
        }
        let refused = sign_in(PASSWORD, "203.0.113.7", 6).await.unwrap_err().to_string();
        assert!(refused.contains("another attempt in a minute"), "{refused}");
        sign_in(PASSWORD, "203.0.113.7", 7).await.unwrap();
        // Another name is no worse for it.
        assert!(
            book.sign_in("Jory Pell", PASSWORD, "192.0.2.1", at(7)).await.unwrap_err().to_string().contains("is wrong")
        );
    });
}

#[test]
fn an_account_that_changes_is_signed_out_and_one_owner_stays() {
    on_both(async |bench| {
        let book = bench.book().await;
        let first = book.make_owner("Morwen Ostrey", PASSWORD, at(0)).await.unwrap();
        let second = book.make_account("Jory Pell", PASSWORD, Role::Floor, &owner(), at(1)).await.unwrap();
        let refused =
            book.change_account(first.number, Role::Desk, true, &owner(), at(2)).await.unwrap_err().to_string();
        assert!(refused.contains("accepted: at least one active account with the role owner"), "{refused}");

        let session = book.sign_in("Jory Pell", PASSWORD, "::1", at(3)).await.unwrap();
        book.set_password(second.number, "another long word", &second.person(), at(4)).await.unwrap();
        assert_eq!(book.session(&session.token, at(5)).await.unwrap(), None);
        assert!(book.sign_in("Jory Pell", PASSWORD, "::1", at(5)).await.is_err());
        assert!(book.set_password(first.number, "another long word", &second.person(), at(4)).await.is_err());

        book.change_account(second.number, Role::Floor, false, &owner(), at(6)).await.unwrap();
        let refused = book.sign_in("Jory Pell", "another long word", "::1", at(7)).await.unwrap_err().to_string();
        assert!(refused.contains("this account may not sign in"), "{refused}");
        assert_eq!(book.accounts().await.unwrap().len(), 2);
        // Neither the passwords nor what is kept of them are in the log.
        for event in book.latest_events(20).await.unwrap() {
            let body = event.body.to_string();
            assert!(!body.contains("argon2") && !body.contains("long word"), "{body}");
        }
    });
}
